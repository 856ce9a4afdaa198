import type { Path } from './path.ts';
import { reversePath, segmentsOf } from './path.ts';
import { arcOf } from './segment.ts';

/**
 * The signed area of a closed path in mm2, positive if it runs counter-clockwise: the shoelace formula
 * over the chords, plus the circular segment R^2 / 2 (sweep - sin sweep) of each arc. Coordinates are
 * taken from the first vertex, so that a path far from the origin loses no digits.
 */
export function signedArea(path: Path): number {
  const origin = path.vertices[0];
  if (origin === undefined) return 0;
  let twice = 0;
  for (const segment of segmentsOf(path)) {
    const { from, to } = segment;
    twice += (from.x - origin.x) * (to.y - origin.y) - (from.y - origin.y) * (to.x - origin.x);
    if (segment.bulge !== 0) {
      const { radius, sweep } = arcOf(segment);
      twice += radius * radius * (sweep - Math.sin(sweep));
    }
  }
  return twice / 2;
}

/** The area of a closed path in mm2. */
export function areaOf(path: Path): number {
  return Math.abs(signedArea(path));
}

export function isCounterClockwise(path: Path): boolean {
  return signedArea(path) > 0;
}

/** The path itself if it runs counter-clockwise, otherwise the path run the other way. */
export function counterClockwise(path: Path): Path {
  return isCounterClockwise(path) ? path : reversePath(path);
}
