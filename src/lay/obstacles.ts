import polygonClipping from 'polygon-clipping';
import type { Point } from '../geometry/point.ts';
import type { Ring } from './engine/polygon.ts';
import { twiceArea } from './engine/polygon.ts';
import type { GrownOutline } from './outline.ts';
import type { Roll } from './lay.ts';
import { usableWidth } from './lay.ts';

/** What is taken for past the edge of a remnant reaches so far beyond the roll, mm. */
const beyond = 50;

/**
 * What no part may lie over, in the engine's strip (from the start margin, inside the selvedge): defects,
 * and past the edge of a remnant. Parts come no nearer to them than half the gap.
 */
export function obstaclesOn(roll: Roll): GrownOutline[] {
  return [
    ...(roll.defects ?? []).map((defect) => ({ outline: rightRound(ringOf(defect, roll)), holes: [] })),
    ...(roll.outline === undefined ? [] : outside(ringOf(roll.outline, roll), roll)),
  ];
}

function ringOf(points: readonly Point[], { startMargin, selvedge }: Roll): number[] {
  return points.flatMap(({ x, y }) => [x - startMargin, y - selvedge]);
}

function rightRound(ring: readonly number[]): number[] {
  if (twiceArea(ring) > 0) return [...ring];
  return pairsOf(ring).reverse().flat();
}

function pairsOf(ring: Ring): [number, number][] {
  return Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i]!, ring[2 * i + 1]!]);
}

/** The strip around a remnant, as polygons. */
function outside(outline: Ring, roll: Roll): GrownOutline[] {
  const end = roll.length - roll.startMargin + beyond;
  const width = usableWidth(roll) + beyond;
  const strip: [number, number][] = [
    [-beyond, -beyond],
    [end, -beyond],
    [end, width],
    [-beyond, width],
  ];
  return polygonClipping
    .difference([strip], [pairsOf(outline)])
    .map(([outer, ...holes]): GrownOutline => ({
      outline: rightRound(open(outer!)),
      holes: holes.map((hole) => pairsOf(rightRound(open(hole))).reverse().flat()),
    }));
}

/** The library repeats the first corner at the end. */
function open(ring: readonly [number, number][]): number[] {
  return ring.slice(0, -1).flat();
}
