import { boxIndex } from '../measuring/box-index.ts';
import { boxOfPoints, growBox, sameBox } from '../paths/box.ts';
import { boxOfPath, reversePath } from '../paths/path.ts';
import type { Path, Vertex } from '../paths/path.ts';
import { distance } from '../paths/point.ts';
import { sameCurve } from '../measuring/same-curve.ts';

/**
 * Curves that are nowhere further apart than this (mm) are one curve that was drawn twice: coordinates
 * written with four decimals can leave such a difference.
 */
const sameDrawing = 1e-3;

/**
 * The indexes of paths that repeat an earlier one, rising. A repeat has the same vertices, in either
 * direction and from any start, or is the same curve divided into other segments.
 */
export function repeats(paths: readonly Path[]): number[] {
  const boxes = paths.map(boxOfPath);
  const corners = boxes.map(({ minX, minY }) => boxOfPoints([{ x: minX, y: minY }]));
  const near = boxIndex(corners);
  const repeated = new Set<number>();
  for (const [i, path] of paths.entries()) {
    if (repeated.has(i)) continue;
    for (const j of near(growBox(corners[i]!, sameDrawing))) {
      if (
        j > i &&
        !repeated.has(j) &&
        sameBox(boxes[i]!, boxes[j]!, sameDrawing) &&
        isRepeat(path, paths[j]!)
      ) {
        repeated.add(j);
      }
    }
  }
  return [...repeated].sort((a, b) => a - b);
}

function isRepeat(a: Path, b: Path): boolean {
  if (a.vertices.length === 1 || b.vertices.length === 1) {
    return a.vertices.length === b.vertices.length;
  }
  return sameVertices(a, b) || sameVertices(a, reversePath(b)) || sameCurve(a, b, sameDrawing);
}

/** A quick test that finds by far the most common repeats without measuring along the curves. */
function sameVertices(a: Path, b: Path): boolean {
  const count = a.vertices.length;
  if (a.closed !== b.closed || b.vertices.length !== count) return false;
  const starts = a.closed ? b.vertices.keys() : [0];
  return [...starts].some(
    (start) =>
      meets(a.vertices[0]!, b.vertices[start]!) &&
      a.vertices.every((vertex, i) => meets(vertex, b.vertices[(start + i) % count]!)),
  );
}

function meets(a: Vertex, b: Vertex): boolean {
  return Math.abs(a.bulge - b.bulge) < 1e-6 && distance(a, b) <= sameDrawing;
}
