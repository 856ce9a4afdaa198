import type { Path } from '../geometry/paths/path.ts';
import { polyline, segmentsOf } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { distance, dot, minus } from '../geometry/paths/point.ts';

/** A straight line of an arrow. */
interface Stick {
  readonly from: Point;
  readonly to: Point;
}

/** The lines of a head meet the shaft within so many mm. */
const meeting = 1;

/** A line of a head is at most so long, as a share of the shaft. */
const longestBarb = 0.5;

/**
 * The shaft of an arrow drawn with its head, from tail to head: the longest of the lines, and all others
 * go back from one of its ends. null: the paths are not plainly one arrow.
 */
export function arrowAmong(paths: readonly Path[]): Path | null {
  const segments = paths.flatMap((path) => (path.closed ? [] : segmentsOf(path)));
  if (paths.some(({ closed }) => closed) || segments.some(({ bulge }) => bulge !== 0)) return null;
  const sticks = segments.toSorted((a, b) => lengthOfStick(b) - lengthOfStick(a));
  const [shaft, ...barbs] = sticks;
  if (shaft === undefined || barbs.length === 0) return null;
  const ways: Stick[] = [shaft, { from: shaft.to, to: shaft.from }];
  const way = ways.find((one) => barbs.every((barb) => goesBack(barb, one)));
  return way === undefined ? null : polyline([way.from, way.to], false);
}

function lengthOfStick({ from, to }: Stick): number {
  return distance(from, to);
}

/** Whether a line goes from the head of a shaft back towards its tail, as a line of a head does. */
function goesBack(barb: Stick, shaft: Stick): boolean {
  const { from: tail, to: head } = shaft;
  if (lengthOfStick(barb) > longestBarb * lengthOfStick(shaft)) return false;
  const [near, far] =
    distance(barb.from, head) <= distance(barb.to, head)
      ? [barb.from, barb.to]
      : [barb.to, barb.from];
  return distance(near, head) <= meeting && dot(minus(far, near), minus(tail, head)) > 0;
}
