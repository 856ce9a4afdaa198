import { boxOfPoints, growBox } from '../paths/box.ts';
import type { Box } from '../paths/box.ts';
import type { BoxIndex } from './box-index.ts';
import { bandIndex } from './band-index.ts';
import type { Nearest, Segment } from '../paths/segment.ts';
import type { Path, Station } from '../paths/path.ts';
import { pathOf, segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import {
  boxOfSegment,
  nearestOnSegment,
  partOfSegment,
  pointAt,
  segmentLength,
  tangentAt,
} from '../paths/segment.ts';
import { samePoint } from '../paths/tolerance.ts';

/**
 * A path with its lengths, boxes and an index worked out once, for code that asks many questions about
 * it.
 */
export interface MeasuredPath {
  readonly path: Path;
  readonly segments: readonly Segment[];
  /**
   * The length along the path, in mm, at which each segment begins. The last entry is the length of the
   * path.
   */
  readonly starts: readonly number[];
  readonly length: number;
  /** The boxes of the segments. */
  readonly boxes: readonly Box[];
  /** Finds the segments whose boxes meet a box. */
  readonly near: BoxIndex;
}

/** Measures a path. The index is only built when it is first asked. */
export function measurePath(path: Path): MeasuredPath {
  const segments = segmentsOf(path);
  const starts = [0];
  for (const [i, segment] of segments.entries()) starts.push(starts[i]! + segmentLength(segment));
  const boxes = segments.map(boxOfSegment);
  let index: BoxIndex | undefined;
  // The index is built at the first question: many measured paths are never asked.
  const near: BoxIndex = (box) => (index ??= bandIndex(boxes))(box);
  return { path, segments, starts, length: starts.at(-1)!, boxes, near };
}

/** The length along the path from its start to a station, mm. */
export function stationLength({ starts }: MeasuredPath, { segment, t }: Station): number {
  return starts[segment]! + (starts[segment + 1]! - starts[segment]!) * t;
}

/** The place at a distance (mm) along the path from its start, and the unit vector of travel there. */
export function placeAlong(
  measured: MeasuredPath,
  length: number,
): { station: Station; point: Point; tangent: Point } {
  const station = stationAlong(measured, length);
  const segment = measured.segments[station.segment]!;
  return { station, point: pointAt(segment, station.t), tangent: tangentAt(segment, station.t) };
}

function stationAlong({ segments, starts }: MeasuredPath, length: number): Station {
  const segment = Math.min(segments.length - 1, lastAtMost(starts, length));
  const own = starts[segment + 1]! - starts[segment]!;
  const t = own === 0 ? 0 : (length - starts[segment]!) / own;
  return { segment, t: Math.min(1, Math.max(0, t)) };
}

/** The index of the last number that is not above `value`; 0 if all are above it. The numbers rise. */
function lastAtMost(rising: readonly number[], value: number): number {
  let [low, high] = [0, rising.length];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (rising[middle]! <= value) low = middle;
    else high = middle;
  }
  return low;
}

/**
 * The place along the path, in mm from its start, of the vertex that is nearest to the place `length`.
 * The end of a closed path is given as the whole length, though it is also its start.
 */
export function cornerNear(measured: MeasuredPath, length: number): number {
  const { starts } = measured;
  const before = lastAtMost(starts, length);
  const [a, b] = [starts[before]!, starts[Math.min(before + 1, starts.length - 1)]!];
  return length - a <= b - length ? a : b;
}

/** A place on a path, and its distance in mm from the point it was looked for. */
export interface NearestPlace {
  readonly station: Station;
  readonly point: Point;
  readonly distance: number;
}

/** Whether a point lies no further than `tolerance` mm from the path. */
export function isOnMeasured(
  { segments, near }: MeasuredPath,
  p: Point,
  tolerance: number,
): boolean {
  const around = growBox(boxOfPoints([p]), tolerance);
  return near(around).some((i) => nearestOnSegment(segments[i]!, p).distance <= tolerance);
}

/**
 * The place on the path nearest to p, good to samePoint. `guess` is the index of a segment that p may
 * well lie on, for example the one found for the previous point: if p lies on it or on one of its
 * neighbours, no search is needed.
 */
export function nearestPlace(measured: MeasuredPath, p: Point, guess = 0): NearestPlace {
  const count = measured.segments.length;
  for (const segment of [guess, (guess + 1) % count, (guess + count - 1) % count]) {
    const nearest = nearestOnSegment(measured.segments[segment]!, p);
    if (nearest.distance <= samePoint) return placeOf(measured, segment, nearest);
  }
  return searchNearest(measured, p);
}

/**
 * Searches in ever larger boxes round p. A place that is no further away than the box reaches is the
 * nearest there is.
 */
function searchNearest(measured: MeasuredPath, p: Point): NearestPlace {
  const { segments, near } = measured;
  for (let reach = 1; reach < 1000; reach *= 8) {
    const [minX, minY, maxX, maxY] = [p.x - reach, p.y - reach, p.x + reach, p.y + reach];
    const found = nearestOf(measured, p, near({ minX, minY, maxX, maxY }));
    if (found !== null && found.distance <= reach) return found;
  }
  return nearestOf(measured, p, segments.keys())!;
}

function nearestOf(
  measured: MeasuredPath,
  p: Point,
  candidates: Iterable<number>,
): NearestPlace | null {
  let best: { segment: number; nearest: Nearest } | null = null;
  for (const segment of candidates) {
    const nearest = nearestOnSegment(measured.segments[segment]!, p);
    if (best === null || nearest.distance < best.nearest.distance) best = { segment, nearest };
  }
  return best === null ? null : placeOf(measured, best.segment, best.nearest);
}

/**
 * A station has t < 1: the end of a segment is given as the start of the next one. Only the end of an
 * open path has t = 1.
 */
function placeOf(
  { path, segments }: MeasuredPath,
  segment: number,
  { t, point, distance }: Nearest,
): NearestPlace {
  const isNext = t === 1 && (path.closed || segment < segments.length - 1);
  const station = isNext ? { segment: (segment + 1) % segments.length, t: 0 } : { segment, t };
  return { station, point, distance };
}

/**
 * The open path along a closed one, from one length to another (mm from its start), in its own direction.
 * If `to` <= `from` it goes across the start; so equal lengths give the whole way round.
 */
export function stretchAlong(measured: MeasuredPath, from: number, to: number): Path {
  const pieces =
    to > from
      ? cutOut(measured, from, to)
      : [...cutOut(measured, from, measured.length), ...cutOut(measured, 0, to)];
  return pathOf(pieces, false);
}

function cutOut({ segments, starts }: MeasuredPath, from: number, to: number): Segment[] {
  const pieces: Segment[] = [];
  for (let i = lastAtMost(starts, from); i < segments.length && starts[i]! < to; i++) {
    const length = starts[i + 1]! - starts[i]!;
    const begin = shareOf(from - starts[i]!, length);
    const end = shareOf(to - starts[i]!, length);
    if (end > begin) pieces.push(partOfSegment(segments[i]!, begin, end));
  }
  return pieces;
}

/**
 * `along` as a share of `length`. Within samePoint of an end the share is that end, so that no sliver is
 * left over.
 */
function shareOf(along: number, length: number): number {
  if (along < samePoint) return 0;
  return along > length - samePoint ? 1 : along / length;
}
