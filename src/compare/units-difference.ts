import { mmPer } from '../drawing/units.ts';
import { decimal } from '../base/numbers.ts';
import { heightOf, widthOf } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { scaling, transformPath } from '../geometry/paths/transform.ts';
import type { Comparable, Item } from './comparable.ts';
import type { Difference } from './difference.ts';
import { difference, theWhole } from './difference.ts';

/** The fact about a drawing or a set that tells its units. */
export const unitsWord = 'units of the drawing';

/** How near the sizes of two inputs must come to a factor between units, as a share. */
const nearness = 1e-4;

/** All factors between two different units. */
const factors = Object.values(mmPer).flatMap((one) =>
  Object.values(mmPer).flatMap((other) => (one === other ? [] : [one / other])),
);

/**
 * How many times as large everything is as before, if that is just what the same numbers in other units
 * would be; otherwise null.
 */
export function unitsFactor(before: Comparable, after: Comparable): number | null {
  if (before.items.length === 0 || before.items.length !== after.items.length) return null;
  const ratio = sizeOf(after) / sizeOf(before);
  return factors.find((factor) => Math.abs(ratio / factor - 1) <= nearness) ?? null;
}

/** The sum of the widths and heights of all that is compared, mm. */
function sizeOf({ items }: Comparable): number {
  return items
    .map(({ outline }) => boxOfPath(outline))
    .reduce((sum, box) => sum + widthOf(box) + heightOf(box), 0);
}

export function factorDifference(factor: number): Difference {
  const times =
    factor > 1 ? `${decimal(factor, 2)} times as large` : `${decimal(1 / factor, 2)} times smaller`;
  return difference(
    'outline',
    theWhole,
    `everything is ${times}: the numbers are the same, and their units are not. Other differences are told at the new size.`,
  );
}

/** The input as if it had been read in other units. */
export function scaled(input: Comparable, factor: number): Comparable {
  const larger = scaling(factor, factor);
  return {
    ...input,
    items: input.items.map((item): Item => ({
      ...item,
      outline: transformPath(larger, item.outline),
      details: item.details.map(({ role, path }) => ({ role, path: transformPath(larger, path) })),
    })),
  };
}
