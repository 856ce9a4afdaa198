import type { Path, Station } from '../paths/path.ts';
import { segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { distance } from '../paths/point.ts';
import { nearestOnSegment } from '../paths/segment.ts';

/** The place on the path that is nearest to p, and its distance from p, mm. */
export function nearestOnPath(
  path: Path,
  p: Point,
): { station: Station; point: Point; distance: number } {
  let best = { station: { segment: 0, t: 0 }, point: p, distance: Infinity };
  const segments = segmentsOf(path);
  for (const [i, segment] of segments.entries()) {
    const { t, ...place } = nearestOnSegment(segment, p);
    if (place.distance < best.distance) best = { station: { segment: i, t }, ...place };
  }
  return { ...best, station: inside(best.station, path, segments.length) };
}

/** The distance from p to the path, mm. A path of one vertex is a point. */
export function distanceToPath(path: Path, p: Point): number {
  const [first, second] = path.vertices;
  return second === undefined ? distance(first!, p) : nearestOnPath(path, p).distance;
}

/**
 * In a closed path the end of a segment is given as the start of the next one. In an open path it stays t
 * = 1.
 */
function inside(station: Station, path: Path, count: number): Station {
  if (station.t < 1) return station;
  if (path.closed) return { segment: (station.segment + 1) % count, t: 0 };
  return station;
}
