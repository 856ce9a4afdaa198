import type { Part } from '../handing/part.ts';
import { materialArea } from './lay-parts.ts';
import type { Lay, Placement } from './lay.ts';
import { usableWidth } from './lay.ts';

/**
 * The parts of one set that are cut from one material. They stay on one roll, because shades differ from
 * roll to roll.
 */
export interface SetOfParts {
  readonly name: string;
  readonly order: string;
  readonly parts: readonly Part[];
  /** Area of material, mm2. */
  readonly area: number;
}

/** Sets whose areas differ by less than this share are equally large: mirrored parts differ in the last bits. */
const sameArea = 1e-9;

/**
 * The sets that parts belong to, the largest first. Of equally large ones those of small orders come first: short rolls,
 * which are filled first, have room for few sets, and an order is rather whole on one roll.
 */
export function setsOf(parts: readonly Part[]): SetOfParts[] {
  const sets = new Map<string, Part[]>();
  for (const part of parts) {
    const name = `set ${part.set} of order ${part.order}`;
    sets.set(name, [...(sets.get(name) ?? []), part]);
  }
  const all = [...sets].map(([name, own]) => ({
    name,
    order: own[0]!.order,
    parts: own,
    area: own.reduce((a, p) => a + materialArea(p), 0),
  }));
  const times = new Map<string, number>();
  for (const { order } of all) times.set(order, (times.get(order) ?? 0) + 1);
  const byArea = (a: SetOfParts, b: SetOfParts): number =>
    Math.abs(a.area - b.area) <= sameArea * a.area ? 0 : b.area - a.area;
  const number = ({ parts: [one] }: SetOfParts): number => one!.set;
  return all.sort(
    (a, b) =>
      byArea(a, b) ||
      times.get(a.order)! - times.get(b.order)! ||
      (a.order < b.order ? -1 : a.order > b.order ? 1 : number(a) - number(b)),
  );
}

export function hasPin({ parts }: SetOfParts, pins: readonly Placement[]): boolean {
  return pins.some((pin) => parts.some(({ label }) => label === pin.label));
}

/** Area of material of all parts, mm2. */
export function areaOfSets(sets: readonly SetOfParts[]): number {
  return sets.reduce((all, { area }) => all + area, 0);
}

/** The first sets, in their order, that have room together if no cloth is lost between them. `room`: mm2. */
export function thatMayFit(sets: readonly SetOfParts[], room: number): SetOfParts[] {
  let left = room;
  return sets.filter((set) => {
    const fits = set.area <= left;
    if (fits) left -= set.area;
    return fits;
  });
}

/** What is put off for want of room might have found it in a lay so many times as dense, but hardly in a denser one. */
export const hoped = 1.05;

/**
 * How many of the sets of a lay that is too long for its roll, the first of them, there would be room for if it were
 * `denser` times as dense: never all.
 */
export function hopefulOf(
  sets: readonly SetOfParts[],
  { length, roll, density }: Lay,
  denser: number,
): number {
  if (length === 0) return 0;
  const room = denser * density * (roll.length - roll.startMargin) * usableWidth(roll);
  let kept = sets.length - 1;
  while (kept > 0 && areaOfSets(sets.slice(0, kept)) > room) kept--;
  return kept;
}

/**
 * The sets that go on being wanted on a roll once `dropped` has found no room beside those before it. Others as large
 * would find none in its place, but smaller ones may, also those that were put off for its sake. `all`: the sets in
 * the order in which they are tried; `wanted`: those of them that were wanted until now.
 */
export function wantedWithout(
  dropped: SetOfParts,
  wanted: readonly SetOfParts[],
  all: readonly SetOfParts[],
): SetOfParts[] {
  const at = all.indexOf(dropped);
  const smaller = (1 - sameArea) * dropped.area;
  return all.filter((set, i) => (i < at ? wanted.includes(set) : set.area < smaller));
}
