import { boxOfPath } from '../paths/path.ts';
import { placeInPath } from './contains.ts';
import { pathCrossings } from './crossings.ts';
import type { Path } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { boxSeparation } from './separation.ts';

/**
 * A place where a path, or a point given as one vertex, meets the area of a closed path, its contour
 * included. null: they stay apart.
 */
export function meetingPlace(area: Path, path: Path): Point | null {
  if (boxSeparation(boxOfPath(area), boxOfPath(path)) > 0) return null;
  const crossing = pathCrossings(area, path)[0];
  if (crossing !== undefined) return crossing;
  const first = path.vertices[0]!;
  if (placeInPath(area, first) !== 'outside') return { x: first.x, y: first.y };
  const own = area.vertices[0]!;
  if (path.closed && placeInPath(path, own) !== 'outside') return { x: own.x, y: own.y };
  return null;
}
