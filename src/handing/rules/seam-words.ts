import { alongPath, pathLength } from '../../geometry/path.ts';
import type { Point } from '../../geometry/point.ts';
import type { SetSheet } from '../../pattern/set-file.ts';
import type { Edge } from '../part.ts';

/** `floor/front – dash`. */
export function wordSeam({ seams }: Pick<SetSheet, 'seams'>, seam: number): string {
  return seams[seam]!.join.join(' – ');
}

export function wordEdge({ name }: Edge): string {
  return name === null ? 'a seam edge without a name' : `the seam edge "${name}"`;
}

/** Where to look for an edge: half way along it. */
export function middleOf({ path }: Edge): Point {
  return alongPath(path, pathLength(path) / 2).point;
}
