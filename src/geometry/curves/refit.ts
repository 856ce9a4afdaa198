import type { Path } from '../paths/path.ts';
import { pathOf, segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { cross, distance, dot, minus } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { nearestOnSegment, pointAt } from '../paths/segment.ts';

/**
 * A path with fewer segments. `deviation`: how far the old path is from it at most, mm, measured at the
 * vertices of the old path and at the middles of its segments.
 */
export interface Refit {
  readonly path: Path;
  readonly deviation: number;
}

/**
 * The path with rows of straight segments replaced by single lines and arcs, which stay within
 * `tolerance` mm of every point of the row. Arcs of the path stay as they are. A row ends at a point of
 * the path, so corners stay in their places. Each row is made as long as possible.
 */
export function refitted(path: Path, tolerance: number): Refit {
  const segments = segmentsOf(path);
  const start = path.closed ? sharpestCorner(segments) : 0;
  const ordered = [...segments.slice(start), ...segments.slice(0, start)];
  const made: Segment[] = [];
  let deviation = 0;
  let at = 0;
  while (at < ordered.length) {
    const { segment, count, off } = longestRun(ordered, at, tolerance);
    made.push(segment);
    deviation = Math.max(deviation, off);
    at += count;
  }
  // A closed path needs at least two segments: leave this one as it is.
  return made.length < 2 && path.closed
    ? { path, deviation: 0 }
    : { path: pathOf(made, path.closed), deviation };
}

/**
 * The index of the segment that begins at the sharpest corner. A closed path is begun there, so that no
 * row goes across that corner.
 */
function sharpestCorner(segments: readonly Segment[]): number {
  let sharpest = 0;
  let least = Infinity;
  for (const [i, { from, to }] of segments.entries()) {
    const before = segments[(i - 1 + segments.length) % segments.length]!;
    const [into, out] = [minus(before.to, before.from), minus(to, from)];
    const cosine = dot(into, out) / (Math.hypot(into.x, into.y) * Math.hypot(out.x, out.y));
    if (cosine < least) [sharpest, least] = [i, cosine];
  }
  return sharpest;
}

interface FittedSpan {
  readonly segment: Segment;
  readonly count: number;
  readonly off: number;
}

/**
 * The longest row from segment `at` on that one line or arc can replace. The row grows by steps that
 * double as long as it fits, and are halved from the first failure on. So not every length is tried: the
 * result is the longest of those that were.
 */
function longestRun(segments: readonly Segment[], at: number, tolerance: number): FittedSpan {
  let best: FittedSpan = { segment: segments[at]!, count: 1, off: 0 };
  if (segments[at]!.bulge !== 0) return best;
  const stop = segments.findIndex(({ bulge }, i) => i > at && bulge !== 0);
  const most = (stop < 0 ? segments.length : stop) - at;
  let step = 1;
  let grows = true;
  while (step >= 1) {
    const count = Math.min(most, best.count + step);
    const run = count > best.count ? fitOf(segments, at, count, tolerance) : undefined;
    if (run !== undefined) best = run;
    else grows = false;
    step = grows ? step * 2 : Math.floor(step / 2);
  }
  return best;
}

/** One line or arc for `count` segments, or undefined if none is near enough. */
function fitOf(
  segments: readonly Segment[],
  at: number,
  count: number,
  tolerance: number,
): FittedSpan | undefined {
  const run = segments.slice(at, at + count);
  const [from, to] = [run[0]!.from, run.at(-1)!.to];
  if (distance(from, to) <= tolerance) return undefined;
  const points = run.slice(1).map((segment) => segment.from);
  for (const bulge of [0, middleBulge(from, to, points)]) {
    // Beyond a half circle, small errors of the chord make large errors of the arc.
    if (Math.abs(bulge) > 1) continue;
    const segment = { from, to, bulge };
    const off = deviationOf(segment, run, tolerance);
    if (off <= tolerance) return { segment, count, off };
  }
  return undefined;
}

/**
 * The bulge half way between the smallest and the largest among the arcs through both ends and one of the
 * middle half of the points.
 */
function middleBulge(from: Point, to: Point, points: readonly Point[]): number {
  const quarter = Math.floor(points.length / 4);
  const bulges = points
    .slice(quarter, points.length - quarter)
    .map((p) => bulgeThrough(from, p, to));
  const low = bulges.reduce((a, b) => Math.min(a, b), Infinity);
  const high = bulges.reduce((a, b) => Math.max(a, b), -Infinity);
  return (low + high) / 2;
}

/**
 * The bulge of the arc from `from` through p to `to`. By the inscribed angle theorem the path turns at p
 * by half the sweep.
 */
function bulgeThrough(from: Point, p: Point, to: Point): number {
  const [a, b] = [minus(p, from), minus(to, p)];
  return Math.tan(Math.atan2(cross(a, b), dot(a, b)) / 2);
}

/**
 * How far `segment` and the row are apart, mm: at the points of the row and at the middles of its
 * segments. Infinity if the row turns back on itself. Beyond the tolerance it is only a lower bound.
 */
function deviationOf(segment: Segment, run: readonly Segment[], tolerance: number): number {
  let worst = 0;
  let reached = 0;
  for (const piece of run) {
    const half = pointAt(piece, 0.5);
    for (const p of [piece.from, half]) {
      const { t, distance: off } = nearestOnSegment(segment, p);
      // A row that turns back on itself must not become an arc, however near to it it stays.
      if ((reached - t) * distance(segment.from, segment.to) > 2 * tolerance) return Infinity;
      reached = Math.max(reached, t);
      worst = Math.max(worst, off);
      if (worst > tolerance) return worst;
    }
  }
  return worst;
}
