import type { Path, Vertex } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';

/**
 * Paths that cover the given ones to within `tolerance` mm, with as few vertices as that needs; 0: as they are. Open
 * ones that follow each other end to end are one: a drawing may have its outlines in a hundred thousand short lines.
 */
export function thinnedPaths(paths: readonly Path[], tolerance: number): readonly Path[] {
  return tolerance === 0 ? paths : endToEnd(paths).map((path) => thinnedPath(path, tolerance));
}

function endToEnd(paths: readonly Path[]): Path[] {
  const runs: Path[] = [];
  let run: Vertex[] = [];
  for (const path of paths) {
    if (path.closed) {
      runs.push(path);
      continue;
    }
    const end = run.at(-1);
    if (end === undefined || distance(end, path.vertices[0]!) > samePoint) {
      run = [];
      runs.push({ closed: false, vertices: run });
    } else {
      run.pop();
    }
    for (const vertex of path.vertices) run.push(vertex);
  }
  return runs;
}

/**
 * A path that is nowhere further than `tolerance` mm from the given one, with as few vertices as a run of
 * straight lines needs. Arcs that rise less than that count as straight; all others stay. The ends stay
 * where they are: nothing is ever thinned away.
 */
function thinnedPath({ closed, vertices }: Path, tolerance: number): Path {
  if (vertices.length < 4) return { closed, vertices };
  const kept: Vertex[] = [];
  const last = vertices.length - 1;
  let start = 0;
  for (let i = 0; i <= last; i++) {
    if (i < last && isFlat(vertices[i]!, vertices[i + 1]!, tolerance)) continue;
    kept.push(...thinnedRun(vertices, start, i, tolerance));
    start = i + 1;
  }
  return { closed, vertices: kept };
}

/** Whether the segment between two vertices rises no more than half the tolerance over its chord. */
function isFlat(from: Vertex, to: Point, tolerance: number): boolean {
  return (Math.abs(from.bulge) * distance(from, to)) / 2 <= tolerance / 2;
}

/**
 * Those of the vertices `first` to `last` that a line through them needs, by the way of Douglas and
 * Peucker, without recursion: a run may have a hundred thousand. The last one keeps its bulge.
 */
function thinnedRun(
  vertices: readonly Vertex[],
  first: number,
  last: number,
  tolerance: number,
): Vertex[] {
  const isKept = new Uint8Array(last - first + 1);
  isKept[0] = 1;
  isKept[last - first] = 1;
  const spans: [number, number][] = [[first, last]];
  for (let span = spans.pop(); span !== undefined; span = spans.pop()) {
    const [from, to] = span;
    const [a, b] = [vertices[from]!, vertices[to]!];
    let far = tolerance / 2;
    let at = -1;
    for (let i = from + 1; i < to; i++) {
      const off = offChord(vertices[i]!, a, b);
      if (off > far) [far, at] = [off, i];
    }
    if (at < 0) continue;
    isKept[at - first] = 1;
    spans.push([from, at], [at, to]);
  }
  const run: Vertex[] = [];
  for (let i = first; i < last; i++) {
    if (isKept[i - first] === 1) run.push({ ...vertices[i]!, bulge: 0 });
  }
  run.push(vertices[last]!);
  return run;
}

/** How far a point lies from a chord, mm. Plain numbers, because it is asked some millions of times. */
function offChord(p: Point, a: Point, b: Point): number {
  const [x, y] = [b.x - a.x, b.y - a.y];
  const square = x * x + y * y;
  const t = square === 0 ? 0 : ((p.x - a.x) * x + (p.y - a.y) * y) / square;
  const inside = t < 0 ? 0 : t > 1 ? 1 : t;
  return Math.hypot(p.x - a.x - inside * x, p.y - a.y - inside * y);
}
