import { decimal } from '../base/numbers.ts';
import { mmPer } from '../drawing/units.ts';
import { isCongruent } from '../geometry/fitting/motions.ts';
import { heightOf, widthOf } from '../geometry/paths/box.ts';
import { boxOfPath, pathLength } from '../geometry/paths/path.ts';
import { scaling, transformPath } from '../geometry/paths/transform.ts';
import type { Comparable, Item } from './comparable.ts';
import type { Difference } from './difference.ts';
import { difference, theWhole } from './difference.ts';
import { itemUnder } from './whole-motion.ts';

/** The fact about a drawing or a set that tells its units. */
export const unitsWord = 'units of the drawing';

/** How near sizes must come to a common factor, as a share. */
const nearness = 1e-4;

/** All factors between two different units. */
const unitFactors = Object.values(mmPer).flatMap((one) =>
  Object.values(mmPer).flatMap((other) => (one === other ? [] : [one / other])),
);

/**
 * How many times as large everything is as before; null: most things have kept their size, or each has another
 * factor. `tolerance` in mm.
 */
export function commonFactor(
  before: Comparable,
  after: Comparable,
  tolerance: number,
): number | null {
  const ratios = ratiosByLabel(before.items, after.items) ?? ratiosInOrder(before, after);
  const factor = ratios.toSorted((a, b) => a - b)[Math.floor(ratios.length / 2)];
  if (factor === undefined || Math.abs(factor - 1) < nearness) return null;
  const same = ratios.filter((one) => Math.abs(one / factor - 1) <= nearness);
  if (2 * same.length <= ratios.length) return null;
  const unit = unitFactors.find((one) => Math.abs(factor / one - 1) <= nearness);
  const exact = unit ?? factor;
  return isScaled(before.items, after.items, exact, tolerance) ? exact : null;
}

function sizeOf({ outline }: Item): number {
  return pathLength(outline);
}

/** By how much things are larger whose names are clear in both; null: hardly any has a name. */
function ratiosByLabel(before: readonly Item[], after: readonly Item[]): number[] | null {
  const [old, young] = [before, after].map(byClearLabel);
  const ratios = [...old!].flatMap(([key, a]) => {
    const b = young!.get(key);
    return b === undefined || sizeOf(a) === 0 ? [] : [sizeOf(b) / sizeOf(a)];
  });
  return 2 * ratios.length < Math.min(before.length, after.length) ? null : ratios;
}

function byClearLabel(items: readonly Item[]): Map<string, Item> {
  const found = new Map<string, Item | null>();
  for (const item of items) {
    if (item.label === null) continue;
    const key = JSON.stringify([item.what, item.label]);
    found.set(key, found.has(key) ? null : item);
  }
  return new Map([...found].flatMap(([key, item]) => (item === null ? [] : [[key, item]])));
}

/** Things without names, of which there are as many as before: by their sizes. */
function ratiosInOrder(before: Comparable, after: Comparable): number[] {
  const [old, young] = [before, after].map(({ items }) =>
    items
      .map(sizeOf)
      .filter((size) => size > 0)
      .sort((a, b) => a - b),
  );
  if (old!.length !== young!.length) return [];
  return old!.map((size, i) => young![i]! / size);
}

/** So many things, the largest, show whether their shapes are kept. */
const shown = 5;

/** Whether most of the largest things have their shape at the new size: a longer roll is not a larger one. */
function isScaled(
  before: readonly Item[],
  after: readonly Item[],
  factor: number,
  tolerance: number,
): boolean {
  const [old, young] = [before, after].map((items) =>
    items.toSorted((a, b) => sizeOf(b) - sizeOf(a)).slice(0, shown),
  );
  const larger = scaling(factor, factor);
  const kept = old!.filter((item) => {
    const path = transformPath(larger, item.outline);
    return young!.some(({ outline }) => {
      const [a, b] = [boxOfPath(path), boxOfPath(outline)];
      const off = Math.abs(widthOf(a) + heightOf(a) - widthOf(b) - heightOf(b));
      return off < 0.5 * (widthOf(b) + heightOf(b)) && isCongruent(path, outline, tolerance);
    });
  });
  return old!.length > 0 && 2 * kept.length > old!.length;
}

export function factorDifference(factor: number): Difference {
  const times =
    factor > 1 ? `${decimal(factor, 4)} times as large` : `${decimal(1 / factor, 4)} times smaller`;
  const isUnit = unitFactors.some((one) => Math.abs(factor / one - 1) <= nearness);
  const why = isUnit ? ': the numbers are the same, and their units are not' : '';
  return difference(
    'scale',
    theWhole,
    `everything is ${times}${why}. Other differences are told at the new size.`,
  );
}

/** The input at the new size. Of a program whose unit is another one heights and feeds are larger too. */
export function scaledInput(factor: number, before: Comparable, after: Comparable): Comparable {
  const larger = scaling(factor, factor);
  const isUnit = before.words['units'] !== after.words['units'];
  const items = before.items.map((item) => itemUnder(larger, item));
  return { ...before, items: isUnit ? items.map((item) => withNumbers(item, factor)) : items };
}

/**
 * The input without the names that stand beside its details: which text is near enough to be a name depends on the
 * size, so at another size others are read.
 */
export function withoutNames(input: Comparable): Comparable {
  const items = input.items.map((item) => ({
    ...item,
    details: item.details.map((detail) => ({ ...detail, name: undefined })),
  }));
  return { ...input, items };
}

function withNumbers(item: Item, factor: number): Item {
  const { moves } = item;
  if (moves === undefined) return item;
  const times = (all: readonly number[]): number[] => all.map((one) => factor * one);
  return {
    ...item,
    moves: {
      ...moves,
      travels: times(moves.travels),
      plunges: times(moves.plunges),
      heights: times(moves.heights),
      feeds: times(moves.feeds),
    },
  };
}
