import type { Point } from '../geometry/paths/point.ts';
import type { Ring } from './engine/engine.ts';
import { boxOf, cornersOf, twiceArea } from './engine/engine.ts';
import type { GrownOutline } from './outline.ts';
import type { Roll } from './lay.ts';

/** How far the obstacle round a remnant reaches beyond the roll, mm. */
const beyond = 50;

/**
 * What no part may lie over: defects, and everything past the edge of a remnant. In the frame of the
 * engine's strip, which begins at the start margin and inside the selvedge. Obstacles are not grown, so
 * parts stay half the gap away from them.
 */
export function obstaclesOn(roll: Roll): GrownOutline[] {
  return [
    ...(roll.defects ?? []).map((defect) => ({
      outline: rightRound(ringOf(defect, roll)),
      holes: [],
    })),
    ...(roll.outline === undefined ? [] : [around(ringOf(roll.outline, roll), roll)]),
  ];
}

function ringOf(points: readonly Point[], { startMargin, selvedge }: Roll): number[] {
  return points.flatMap(({ x, y }) => [x - startMargin, y - selvedge]);
}

function rightRound(ring: readonly number[]): number[] {
  if (twiceArea(ring) > 0) return [...ring];
  return cornersOf(ring).reverse().flat();
}

/**
 * Everything round a remnant: a polygon that reaches beyond roll and remnant, with the remnant as its
 * hole.
 */
function around(outline: Ring, roll: Roll): GrownOutline {
  const { minX, minY, maxX, maxY } = boxOf(outline);
  const left = Math.min(minX, -roll.startMargin) - beyond;
  const right = Math.max(maxX, roll.length - roll.startMargin) + beyond;
  const low = Math.min(minY, -roll.selvedge) - beyond;
  const high = Math.max(maxY, roll.width) + beyond;
  const hole = cornersOf(rightRound(outline)).reverse().flat();
  return { outline: [left, low, right, low, right, high, left, high], holes: [hole] };
}
