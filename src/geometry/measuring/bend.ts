import type { Path } from '../paths/path.ts';
import { segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { nearestOnSegment, pointAt } from '../paths/segment.ts';

/** The place of a path that is furthest from a straight line, and how far it is, mm. */
export interface Bend {
  readonly at: Point;
  readonly distance: number;
}

/**
 * The place of a path that is furthest from the straight line between its ends. The ends of a closed path
 * are one point, so all of it counts as bent.
 */
export function bendOf(path: Path): Bend {
  const from = path.vertices[0]!;
  const to = path.closed ? from : path.vertices.at(-1)!;
  const chord = { from, to, bulge: 0 };
  const looks = segmentsOf(path).flatMap((segment) => [
    segment.from,
    ...(segment.bulge === 0 ? [] : [0.25, 0.5, 0.75].map((t) => pointAt(segment, t))),
  ]);
  const places = looks.map((at) => ({ at, distance: nearestOnSegment(chord, at).distance }));
  const start = { at: from, distance: 0 };
  return places.reduce((worst, one) => (one.distance > worst.distance ? one : worst), start);
}
