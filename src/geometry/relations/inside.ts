import { hasInside } from './measured-area.ts';
import type { MeasuredPath } from '../measuring/measured-path.ts';
import { nearestPlace } from '../measuring/measured-path.ts';
import type { Path } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { samePoint } from '../paths/tolerance.ts';

/**
 * The first vertex of a path that lies more than samePoint outside a closed path. null: all lie inside or
 * on it. The answer is the same as placeInPath would give, but faster for many points.
 */
export function vertexOutside(outer: MeasuredPath, inner: Path): Point | null {
  let guess = 0;
  const isOn = (p: Point): boolean => {
    const { distance, station } = nearestPlace(outer, p, guess);
    guess = station.segment;
    return distance <= samePoint;
  };
  return inner.vertices.find((vertex) => !hasInside(outer, vertex) && !isOn(vertex)) ?? null;
}
