import { rounded } from '../base/numbers.ts';
import type { Box } from '../geometry/paths/box.ts';

/** minX, minY, maxX, maxY, mm. */
export type BoxView = readonly [number, number, number, number];

/** A box in whole hundredths of a mm. */
export function extentOf({ minX, minY, maxX, maxY }: Box): BoxView {
  return [rounded(minX, 2), rounded(minY, 2), rounded(maxX, 2), rounded(maxY, 2)];
}
