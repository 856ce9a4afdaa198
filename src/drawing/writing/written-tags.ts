import { decimal, exact } from '../../base/numbers.ts';
import type { Point } from '../../geometry/paths/point.ts';

/** A number to be written, and how many decimals are enough for it. */
export interface Quantity {
  readonly value: number;
  readonly decimals: number;
}

/** A group code and its value: two lines of the file. */
export type WrittenTag = readonly [code: number, value: string | Quantity];

/**
 * The text of a DXF file: two lines for each tag, with LF. `toTheLastBit`: numbers are written with all
 * their digits.
 */
export function textOfTags(tags: readonly WrittenTag[], toTheLastBit: boolean): string {
  const worded = (value: string | Quantity): string => {
    if (typeof value === 'string') return value;
    return toTheLastBit ? exact(value.value) : decimal(value.value, value.decimals);
  };
  return tags.map(([code, value]) => `${String(code).padStart(3)}\n${worded(value)}\n`).join('');
}

export function section(name: string, tags: readonly WrittenTag[]): WrittenTag[] {
  return [...beginSection(name), ...tags, ...endSection];
}

export function beginSection(name: string): WrittenTag[] {
  return [
    [0, 'SECTION'],
    [2, name],
  ];
}

export const endSection: readonly WrittenTag[] = [[0, 'ENDSEC']];

/**
 * The bulge of a vertex, with nine decimals, while coordinates have six: an arc rises over its chord by
 * the bulge times half the chord, so on a chord of ten metres a millionth of a bulge moves it by 0.005
 * mm.
 */
export function bulgeTags(bulge: number): WrittenTag[] {
  return bulge === 0 ? [] : [[42, { value: bulge, decimals: 9 }]];
}

/** A point in groups 10, 20 and 30; with `end` 1 in groups 11, 21 and 31. */
export function pointTags({ x, y }: Point, end = 0): WrittenTag[] {
  return [
    [10 + end, quantity(x)],
    [20 + end, quantity(y)],
    [30 + end, '0'],
  ];
}

/** A number that is written with six decimals. */
export function quantity(value: number): Quantity {
  return { value, decimals: 6 };
}
