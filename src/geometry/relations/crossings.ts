import { growBox } from '../paths/box.ts';
import type { MeasuredPath } from '../measuring/measured-path.ts';
import { measurePath } from '../measuring/measured-path.ts';
import type { Path } from '../paths/path.ts';
import { segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { cross, distance, dot, leftOf, lengthOf, minus, plus, times } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { arcOf, boxOfSegment, nearestOnSegment } from '../paths/segment.ts';
import { samePoint } from '../paths/tolerance.ts';

/** Where the endless lines or full circles meet that two segments lie on: no point, one or two. */
export function carrierCrossings(a: Segment, b: Segment): Point[] {
  if (a.bulge === 0 && b.bulge === 0) return lineWithLine(a, b);
  if (a.bulge === 0) return lineWithCircle(a, b);
  if (b.bulge === 0) return lineWithCircle(b, a);
  return circleWithCircle(a, b);
}

function lineWithLine(a: Segment, b: Segment): Point[] {
  const u = minus(a.to, a.from);
  const v = minus(b.to, b.from);
  const det = cross(u, v);
  // Parallel: with a sine below 1e-9 an error of a micron would move the crossing by a kilometre.
  if (Math.abs(det) <= 1e-9 * Math.hypot(u.x, u.y) * Math.hypot(v.x, v.y)) return [];
  return [plus(a.from, times(u, cross(minus(b.from, a.from), v) / det))];
}

function lineWithCircle(line: Segment, arc: Segment): Point[] {
  const { centre, radius } = arcOf(arc);
  const along = minus(line.to, line.from);
  const size = Math.hypot(along.x, along.y);
  const u = times(along, 1 / size);
  const foot = plus(line.from, times(u, dot(minus(centre, line.from), u)));
  const height = distance(foot, centre);
  if (height > radius + samePoint) return [];
  const half = Math.sqrt(Math.max(0, radius * radius - height * height));
  return half <= samePoint ? [foot] : [plus(foot, times(u, half)), plus(foot, times(u, -half))];
}

function circleWithCircle(a: Segment, b: Segment): Point[] {
  const first = arcOf(a);
  const second = arcOf(b);
  const apart = distance(first.centre, second.centre);
  if (apart <= samePoint) return [];
  if (apart > first.radius + second.radius + samePoint) return [];
  if (apart < Math.abs(first.radius - second.radius) - samePoint) return [];
  const u = times(minus(second.centre, first.centre), 1 / apart);
  const reach = (apart * apart + first.radius ** 2 - second.radius ** 2) / (2 * apart);
  const foot = plus(first.centre, times(u, reach));
  const half = Math.sqrt(Math.max(0, first.radius ** 2 - reach * reach));
  const across = times(leftOf(u), half);
  return half <= samePoint ? [foot] : [plus(foot, across), minus(foot, across)];
}

/**
 * The points where two segments meet, within samePoint mm. Segments that lie on top of each other, on one
 * line or circle, give none.
 */
export function segmentCrossings(a: Segment, b: Segment): Point[] {
  return carrierCrossings(a, b).filter(
    (p) =>
      nearestOnSegment(a, p).distance <= samePoint && nearestOnSegment(b, p).distance <= samePoint,
  );
}

/** The points where two paths meet. */
export function pathCrossings(a: Path, b: Path): Point[] {
  return crossingsWith(measurePath(b), a);
}

/** Where a path meets a measured one: for many paths that are compared with the same one. */
export function crossingsWith(measured: MeasuredPath, path: Path): Point[] {
  return segmentsOf(path).flatMap((segment) =>
    measured
      .near(growBox(boxOfSegment(segment), samePoint))
      .flatMap((i) => segmentCrossings(segment, measured.segments[i]!)),
  );
}

/**
 * Where a path crosses or touches itself, not counting the corners that neighbouring segments share. A
 * segment that runs straight back over the one before it counts too. `measured` is the same path, if it
 * has been measured already.
 */
export function selfCrossings(path: Path, measured = measurePath(path)): Point[] {
  const { segments } = measured;
  const found: Point[] = [];
  for (const [i, segment] of segments.entries()) {
    for (const j of measured.near(growBox(measured.boxes[i]!, samePoint))) {
      if (j <= i) continue;
      const shared = sharedCorners(path, segments, i, j);
      if (shared.length === 1) {
        const [before, after] = j === i + 1 ? [segment, segments[j]!] : [segments[j]!, segment];
        if (runsOn(before, after)) continue;
      }
      const meets = segmentCrossings(segment, segments[j]!);
      found.push(
        ...meets.filter((p) => shared.every((corner) => distance(p, corner) > 10 * samePoint)),
      );
      if (shared.length > 0 && foldsBack(segment, segments[j]!, shared)) found.push(shared[0]!);
    }
  }
  return found;
}

function sharedCorners(path: Path, segments: readonly Segment[], i: number, j: number): Point[] {
  const corners: Point[] = [];
  if (j === i + 1) corners.push(segments[j]!.from);
  if (path.closed && i === 0 && j === segments.length - 1) corners.push(segments[0]!.from);
  return corners;
}

/**
 * Whether no two headings along a segment and the next one differ by more than a quarter turn. Then both
 * move on in one direction and meet only at their corner. A segment of bulge b sweeps no more than 4 |b|.
 * With s for both sweeps together and t for the turn at the corner this asks for t + s <= a quarter turn,
 * which holds if cos t >= s.
 */
function runsOn(a: Segment, b: Segment): boolean {
  const [arriving, leaving] = [heading(a, a.bulge), heading(b, -b.bulge)];
  const sweeps = 4 * (Math.abs(a.bulge) + Math.abs(b.bulge));
  return dot(arriving, leaving) >= sweeps * lengthOf(arriving) * lengthOf(leaving);
}

/**
 * The heading at the end of a segment: its chord turned by half the sweep. With the bulge negated it is
 * the heading at the start. Its length is not 1.
 */
function heading({ from, to }: Segment, bulge: number): Point {
  const chord = minus(to, from);
  return plus(times(chord, 1 - bulge * bulge), times(leftOf(chord), 2 * bulge));
}

/** Whether the second of two straight neighbours runs back over the first. */
function foldsBack(a: Segment, b: Segment, shared: readonly Point[]): boolean {
  if (a.bulge !== 0 || b.bulge !== 0 || shared.length !== 1) return false;
  const u = minus(a.to, a.from);
  const v = minus(b.to, b.from);
  const size = Math.hypot(u.x, u.y) * Math.hypot(v.x, v.y);
  return Math.abs(cross(u, v)) <= 1e-9 * size && dot(u, v) < 0;
}
