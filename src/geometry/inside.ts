import { crossesRay, upright } from './contains.ts';
import type { MeasuredPath } from './measured-path.ts';
import { nearestPlace } from './measured-path.ts';
import type { Path } from './path.ts';
import type { Point } from './point.ts';
import { samePoint } from './tolerance.ts';

/**
 * The first vertex of a path that lies outside a closed one, further than samePoint mm; null where all
 * lie inside or on it. The answers are those of placeInPath, for many points at once.
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

/** By the crossings of a ray to +x; says nothing of points on the path. */
function hasInside({ segments, near }: MeasuredPath, p: Point): boolean {
  let crossings = 0;
  for (const i of near({ minX: p.x, minY: p.y, maxX: Infinity, maxY: p.y })) {
    for (const piece of upright(segments[i]!)) if (crossesRay(piece, p)) crossings++;
  }
  return crossings % 2 === 1;
}
