import { decimal, exact } from '../../base/numbers.ts';
import type { Point } from '../../geometry/paths/point.ts';

/** A number in the file, and how many decimals are enough for it. */
export interface Quantity {
  readonly value: number;
  readonly decimals: number;
}

/** A group code and its value: two lines of the file. */
export type WrittenTag = readonly [code: number, value: string | Quantity];

/** The text of a DXF file: two lines a tag, LF. With `toTheLastBit` numbers have all their digits. */
export function textOfTags(tags: readonly WrittenTag[], toTheLastBit: boolean): string {
  const worded = (value: string | Quantity): string => {
    if (typeof value === 'string') return value;
    return toTheLastBit ? exact(value.value) : decimal(value.value, value.decimals);
  };
  return tags.map(([code, value]) => `${String(code).padStart(3)}\n${worded(value)}\n`).join('');
}

export function section(name: string, tags: readonly WrittenTag[]): WrittenTag[] {
  return [[0, 'SECTION'], [2, name], ...tags, [0, 'ENDSEC']];
}

/**
 * Nine decimals, where coordinates have six: the arc's rise is the bulge times half the chord, so a
 * millionth of a bulge is half a hundredth of a millimetre on ten metres.
 */
export function bulgeTags(bulge: number): WrittenTag[] {
  return bulge === 0 ? [] : [[42, { value: bulge, decimals: 9 }]];
}

/** Groups 10, 20, 30, or with `end` 1 groups 11, 21, 31. */
export function pointTags({ x, y }: Point, end = 0): WrittenTag[] {
  return [
    [10 + end, quantity(x)],
    [20 + end, quantity(y)],
    [30 + end, '0'],
  ];
}

export function quantity(value: number): Quantity {
  return { value, decimals: 6 };
}
