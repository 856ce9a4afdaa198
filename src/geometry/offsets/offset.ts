import type { Path } from '../paths/path.ts';
import { pathOf, segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { cross, distance, dot, minus, plus, times } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { arcOf, bulgeOf, sweepOf, tangentAt } from '../paths/segment.ts';
import { carrierCrossings } from '../relations/crossings.ts';
import { asFolded, foldLines, isFoldCorner, stepLine } from './fold.ts';
import type { CutPiece, MovedSegment } from './moved.ts';
import { moveSegment, smooth } from './moved.ts';
import { NoOffset } from './no-offset.ts';
import { samePoint } from '../paths/tolerance.ts';

/**
 * The corner between two moved segments: where the first ends now and where the second begins. If these
 * are two points, a straight line joins them.
 */
interface Corner {
  readonly end: Point;
  readonly start: Point;
}

/**
 * Moves each segment of a closed counter-clockwise path outwards by an amount of its own (mm; negative:
 * inwards). Lines stay lines, and arcs stay arcs about their own centres.
 *
 * The idea: move every segment by itself, join each with the next where their endless lines or full
 * circles cross, and trim it there. What needs care are the places where that crossing does not exist or
 * is no use:
 * - A corner is a mitre: the crossing itself. If it is further from the corner than `mitreLimit` times
 *   the larger amount, the corner is cut straight across.
 * - Where the path is smooth but the amounts differ, the result steps from one to the other. So it does
 *   at a corner that is so nearly smooth that the lines would meet too far away.
 * - A segment that its neighbours leave nothing of is left out, and so is an arc whose radius is used
 *   up. Their neighbours are then joined with each other.
 * - What a `folded` segment is moved by will be folded back over the piece, and must lie on it then:
 *   see foldLines.
 *
 * `amounts` and `folded` have an entry for each segment. The result can cross itself if an amount is too
 * large for the shape: ask selfCrossings. Throws NoOffset if two neighbours cannot be joined at all, or
 * nothing is left.
 */
export function offsetPath(
  path: Path,
  amounts: readonly number[],
  mitreLimit: number,
  folded: readonly boolean[] = [],
): Path {
  const outline = segmentsOf(path)
    .map((segment, i) => moveSegment(segment, amounts[i]!, folded[i] === true))
    .filter((item) => item !== null);
  const pieces = cutLine(withEndLines(outline, mitreLimit), mitreLimit);
  return pathOf(
    pieces.map(({ segment }) => segment),
    true,
  );
}

/**
 * The outline with end lines at the corners of folded segments, and steps where there is no such corner.
 * A segment that is not folded is left out if nothing of it is left on the folded piece.
 */
function withEndLines(
  outline: readonly MovedSegment[],
  mitreLimit: number,
): readonly MovedSegment[] {
  if (!outline.some(({ folded }) => folded)) return outline;
  const isCorner = (item: MovedSegment, next: MovedSegment): boolean =>
    isFoldCorner(item, next, mitreLimit);
  if (!outline.some((item, i) => isCorner(item, after(outline, i)))) {
    return withBetween(outline, stepLine);
  }
  const lying = cutLine(outline.map(asFolded), mitreLimit);
  const left = new Set(lying.map(({ of }) => of?.original));
  const kept = outline.filter(({ folded, original }) => folded || left.has(original));
  return withBetween(kept, (item, next) => {
    const lines = isCorner(item, next) ? foldLines(item, next, lying) : null;
    return lines ?? stepLine(item, next);
  });
}

function withBetween(
  outline: readonly MovedSegment[],
  linesBetween: (item: MovedSegment, next: MovedSegment) => readonly MovedSegment[],
): MovedSegment[] {
  const all: MovedSegment[] = [];
  for (const [i, item] of outline.entries()) {
    all.push(item);
    const next = after(outline, i);
    if (item.folded || next.folded) all.push(...linesBetween(item, next));
  }
  return all;
}

function after(outline: readonly MovedSegment[], i: number): MovedSegment {
  return outline[(i + 1) % outline.length]!;
}

/** Joins the moved segments with each other all round. */
function cutLine(outline: readonly MovedSegment[], mitreLimit: number): CutPiece[] {
  let moved = outline;
  for (;;) {
    if (moved.length < 2) throw new NoOffset('nothing is left of it', null);
    const corners = moved.map((item, i) => join(item, moved[(i + 1) % moved.length]!, mitreLimit));
    const trimmed = moved.map(({ segment }, i) => {
      const before = corners[(i - 1 + corners.length) % corners.length]!;
      return between(segment, before.start, corners[i]!.end);
    });
    const kept = moved.filter((item, i) => !runsBack(item.segment, trimmed[i]!));
    if (kept.length === moved.length) return assemble(moved, trimmed, corners);
    // A segment that its neighbours leave nothing of is dropped, and they are joined anew.
    moved = kept;
  }
}

function assemble(
  moved: readonly MovedSegment[],
  trimmed: readonly Segment[],
  corners: readonly Corner[],
): CutPiece[] {
  const pieces: CutPiece[] = [];
  const add = (of: MovedSegment | null, segment: Segment): void => {
    if (distance(segment.from, segment.to) > samePoint) pieces.push({ of, segment });
  };
  for (const [i, { end, start }] of corners.entries()) {
    add(moved[i]!, trimmed[i]!);
    if (end !== start) add(null, { from: end, to: start, bulge: 0 });
  }
  return pieces;
}

/** Whether trimming turned a segment round, because its new end lies before its new start. */
function runsBack(segment: Segment, trimmed: Segment): boolean {
  if (segment.bulge !== 0) return segment.bulge * trimmed.bulge < 0;
  return dot(minus(segment.to, segment.from), minus(trimmed.to, trimmed.from)) < 0;
}

function join(a: MovedSegment, b: MovedSegment, mitreLimit: number): Corner {
  const { to: end } = a.segment;
  const { from: start } = b.segment;
  if (distance(end, start) <= samePoint) return { end, start: end };
  const adjacent = distance(a.original.to, b.original.from) <= samePoint;
  const [arriving, leaving] = [tangentAt(a.original, 1), tangentAt(b.original, 0)];
  const turn = cross(arriving, leaving);
  if (adjacent && Math.abs(turn) <= smooth) return smoothJoin(a, b);
  const isOutline = a.endsAt === null && b.endsAt === null;
  // Two amounts at a corner that bends inwards by less than a right angle: the lines may meet far away or
  // not at all.
  const steps = isOutline && differ(a, b) && turn < 0 && dot(arriving, leaving) > 0;
  const corner = a.endsAt ?? b.endsAt ?? a.original.to;
  const crossing = nearestTo(corner, carrierCrossings(a.segment, b.segment));
  if (crossing === null) {
    if (turn > 0 || steps) return { end, start };
    throw new NoOffset('two sides next to each other no longer meet', corner);
  }
  const reach = Math.max(distance(end, corner), distance(start, b.original.from));
  const isFar = distance(crossing, corner) > mitreLimit * reach;
  // At an inside corner both segments become shorter, unless one amount is so much larger that its line
  // reaches across the other.
  const isLonger =
    turn > 0 || dot(minus(crossing, end), arriving) > 0 || dot(minus(crossing, start), leaving) < 0;
  return (adjacent || steps) && isFar && isLonger
    ? { end, start }
    : { end: crossing, start: crossing };
}

function differ(a: MovedSegment, b: MovedSegment): boolean {
  return Math.abs(a.amount - b.amount) > samePoint;
}

/**
 * The joint on a smooth path: a step where the amounts differ. If they are equal, the ends are apart or
 * overlap by a trifle, and meet half way.
 */
function smoothJoin(a: MovedSegment, b: MovedSegment): Corner {
  const [end, start] = [a.segment.to, b.segment.from];
  if (differ(a, b)) return { end, start };
  const middle = times(plus(end, start), 0.5);
  return { end: middle, start: middle };
}

function nearestTo(p: Point, points: readonly Point[]): Point | null {
  let best: Point | null = null;
  for (const point of points) {
    if (best === null || distance(p, point) < distance(p, best)) best = point;
  }
  return best;
}

/** A segment between two other points of the same line or circle. */
function between(segment: Segment, from: Point, to: Point): Segment {
  if (segment.bulge === 0) return { from, to, bulge: 0 };
  if (distance(from, segment.from) <= samePoint && distance(to, segment.to) <= samePoint) {
    return { from, to, bulge: segment.bulge };
  }
  const { centre } = arcOf(segment);
  const angle = (p: Point): number => Math.atan2(p.y - centre.y, p.x - centre.x);
  const full = 2 * Math.PI;
  const direction = Math.sign(segment.bulge);
  const swept = ((((angle(to) - angle(from)) * direction) % full) + full) % full;
  // An arc that was trimmed to less than nothing must not become the rest of its circle.
  const kept = swept - Math.abs(sweepOf(segment.bulge)) > Math.PI ? swept - full : swept;
  return { from, to, bulge: bulgeOf(kept * direction) };
}
