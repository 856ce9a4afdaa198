import { growBox } from '../paths/box.ts';
import { boxOfPath, pathOf, segmentsOf } from '../paths/path.ts';
import { segmentCrossings } from './crossings.ts';
import { flatten } from '../paths/flatten.ts';
import type { MeasuredPath } from '../measuring/measured-path.ts';
import type { Path } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { nearestOnSegment } from '../paths/segment.ts';
import { boxed, boxSeparation, segmentSeparation } from './separation.ts';
import { chordError } from '../paths/tolerance.ts';

/**
 * How near two paths come to each other, in mm, and where on the first path. The distance is exact; the
 * place is looked for on arcs that are flattened to chordError.
 */
export interface Closeness {
  readonly distance: number;
  readonly at: Point;
}

/**
 * How near a path comes to a measured one, with exact arcs. null: they stay `within` mm or more apart.
 *
 * The idea: `least` is the smallest distance found so far, and begins at `within`. Two segments are only
 * measured if their boxes are nearer to each other than that, so the more is known the less is measured.
 * The place is looked up once, for the nearest pair of segments.
 */
export function closeness(path: Path, measured: MeasuredPath, within: number): Closeness | null {
  const near = measured.near(growBox(boxOfPath(path), within));
  if (near.length === 0) return null;
  const others = near.map((i) => boxed(measured.segments[i]!));
  let least = within;
  let pair: [Segment, Segment] | null = null;
  for (const one of segmentsOf(path).map(boxed)) {
    for (const other of others) {
      if (boxSeparation(one.box, other.box) >= least) continue;
      const distance = segmentSeparation(one.segment, other.segment);
      if (distance < least) [least, pair] = [distance, [one.segment, other.segment]];
    }
  }
  return pair === null ? null : { distance: least, at: closestPlace(...pair) };
}

/**
 * The place on a that is nearest to b: a crossing, or the best of the flattened points of a and of the
 * places on a that are nearest to the flattened points of b.
 */
function closestPlace(a: Segment, b: Segment): Point {
  const crossing = segmentCrossings(a, b)[0];
  if (crossing !== undefined) return crossing;
  const onA = pointsOf(a).map((point) => ({
    point,
    distance: nearestOnSegment(b, point).distance,
  }));
  const fromB = pointsOf(b).map((point) => nearestOnSegment(a, point));
  const all = [...onA, ...fromB];
  return all.reduce((best, one) => (one.distance < best.distance ? one : best)).point;
}

function pointsOf(segment: Segment): Point[] {
  return flatten(pathOf([segment], false), chordError);
}
