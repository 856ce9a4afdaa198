import polylabel from 'polylabel';
import type { Path } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { heightOf, widthOf } from '../paths/box.ts';
import { boxOfPath } from '../paths/path.ts';
import { flatten } from '../paths/flatten.ts';
import { chordError } from '../paths/tolerance.ts';

/**
 * The point inside the outline and outside its holes that is furthest from all of them: there a label has
 * most room. `radius` is its distance (mm) to the nearest edge. Both are good to 1 mm, or to a fiftieth
 * of the outline's smaller side if that is less. Outline and holes must be closed, and the outline must
 * bound some area.
 */
export function roomiestPoint(
  outline: Path,
  holes: readonly Path[],
): { readonly point: Point; readonly radius: number } {
  const box = boxOfPath(outline);
  const precision = Math.min(1, widthOf(box) / 50, heightOf(box) / 50);
  const found = polylabel([outline, ...holes].map(ringOf), precision);
  return { point: { x: found[0], y: found[1] }, radius: found.distance };
}

function ringOf(path: Path): [number, number][] {
  return flatten(path, chordError).map(({ x, y }) => [x, y]);
}
