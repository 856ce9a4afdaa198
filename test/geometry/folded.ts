import { offsetPath } from '../../src/geometry/offsets/offset.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { polyline } from '../../src/geometry/paths/path.ts';

export const mitreLimit = 2;
/** mm by which turned edges are folded back. */
export const depth = 25;

/** mm, or folded back. */
export type EdgeAmount = number | 'turned';

export function outlineOf(corners: readonly (readonly [number, number])[]): Path {
  return polyline(
    corners.map(([x, y]) => ({ x, y })),
    true,
  );
}

/** The cut contour of an outline of which some edges are turned and the others have their own amounts. */
export function cutOf(path: Path, edges: readonly EdgeAmount[]): Path {
  return offsetPath(
    path,
    edges.map((edge) => (edge === 'turned' ? depth : edge)),
    mitreLimit,
    edges.map((edge) => edge === 'turned'),
  );
}
