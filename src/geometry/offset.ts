import type { Path } from './path.ts';
import { pathOf, segmentsOf } from './path.ts';
import type { Point } from './point.ts';
import { cross, distance, dot, minus, plus, times } from './point.ts';
import type { Segment } from './segment.ts';
import { arcOf, bulgeOf, sweepOf, tangentAt } from './segment.ts';
import { carrierCrossings } from './crossings.ts';
import type { CutPiece, Moved } from './fold.ts';
import { asFolded, foldLines, isFoldCorner, smooth, stepLine } from './fold.ts';
import { samePoint } from './tolerance.ts';

/** The corner between two moved segments: where the first now ends and the second begins. */
interface Corner {
  readonly end: Point;
  readonly start: Point;
}

/**
 * A closed counter-clockwise path with each segment moved outwards by its own amount (mm, negative:
 * inwards; one amount a segment). Lines stay lines and arcs stay arcs about their own centres.
 * Corners are mitred; a mitre longer than `mitreLimit` times the larger amount is cut straight across.
 * Where amounts differ along a smooth run, or so nearly smooth that the longer mitre would be as far off,
 * the path steps. What is moved by a `folded` segment is to be folded back over it and ends so that it
 * then lies on the piece: see foldLines. An arc whose radius is used up is left out
 * and its neighbours are joined. The result can cross itself where an amount is too large for the
 * shape: ask selfCrossings. Throws RangeError where two neighbours cannot be joined at all.
 */
export function offsetPath(
  path: Path,
  amounts: readonly number[],
  mitreLimit: number,
  folded: readonly boolean[] = [],
): Path {
  const outline = segmentsOf(path)
    .map((segment, i) => move(segment, amounts[i]!, folded[i] === true))
    .filter((item) => item !== null);
  const pieces = cutLine(withEndLines(outline, mitreLimit), mitreLimit);
  return pathOf(
    pieces.map(({ segment }) => segment),
    true,
  );
}

/** With the lines that end folded allowances, and without what they leave nothing of on the folded piece. */
function withEndLines(outline: readonly Moved[], mitreLimit: number): readonly Moved[] {
  if (!outline.some(({ folded }) => folded)) return outline;
  if (!outline.some((item, i) => isFoldCorner(item, after(outline, i), mitreLimit))) {
    return outline.flatMap((item, i) => [item, ...stepLine(item, after(outline, i))]);
  }
  const lying = cutLine(outline.map(asFolded), mitreLimit);
  const left = new Set(lying.map(({ of }) => of?.original));
  const kept = outline.filter(({ folded, original }) => folded || left.has(original));
  return kept.flatMap((item, i) => {
    const next = after(kept, i);
    const lines = isFoldCorner(item, next, mitreLimit) ? foldLines(item, next, lying) : null;
    return [item, ...(lines ?? stepLine(item, next))];
  });
}

function after(outline: readonly Moved[], i: number): Moved {
  return outline[(i + 1) % outline.length]!;
}

/** The moved segments joined to each other all round. */
function cutLine(outline: readonly Moved[], mitreLimit: number): CutPiece[] {
  for (let moved = outline; ;) {
    if (moved.length < 2) throw new RangeError('nothing is left of the path at this offset');
    const corners = moved.map((item, i) => join(item, moved[(i + 1) % moved.length]!, mitreLimit));
    const trimmed = moved.map(({ segment }, i) => {
      const before = corners[(i - 1 + corners.length) % corners.length]!;
      return between(segment, before.start, corners[i]!.end);
    });
    const kept = moved.filter((item, i) => !runsBack(item.segment, trimmed[i]!));
    if (kept.length === moved.length) return assemble(moved, trimmed, corners);
    // A segment that its neighbours leave nothing of is passed over, and they are joined anew.
    moved = kept;
  }
}

function assemble(
  moved: readonly Moved[],
  trimmed: readonly Segment[],
  corners: readonly Corner[],
): CutPiece[] {
  const pieces: CutPiece[] = [];
  const add = (of: Moved | null, segment: Segment): void => {
    if (distance(segment.from, segment.to) > samePoint) pieces.push({ of, segment });
  };
  for (const [i, { end, start }] of corners.entries()) {
    add(moved[i]!, trimmed[i]!);
    if (end !== start) add(null, { from: end, to: start, bulge: 0 });
  }
  return pieces;
}

/** Whether trimming turned a segment round. */
function runsBack(segment: Segment, trimmed: Segment): boolean {
  if (segment.bulge !== 0) return segment.bulge * trimmed.bulge < 0;
  return dot(minus(segment.to, segment.from), minus(trimmed.to, trimmed.from)) < 0;
}

/** null where an arc has no radius left. */
function move(original: Segment, amount: number, isFolded: boolean): Moved | null {
  const { from, to, bulge } = original;
  const shift = (t: number): Point => times(rightOf(tangentAt(original, t)), amount);
  const segment = { from: plus(from, shift(0)), to: plus(to, shift(1)), bulge };
  const moved = { original, segment, amount, folded: isFolded && amount > 0, endsAt: null };
  if (bulge === 0) return moved;
  // Counter-clockwise arcs have their outside to the right and grow; the others shrink.
  const radius = arcOf(original).radius + Math.sign(bulge) * amount;
  return radius > samePoint ? moved : null;
}

function rightOf({ x, y }: Point): Point {
  return { x: y, y: -x };
}

function join(a: Moved, b: Moved, mitreLimit: number): Corner {
  const { to: end } = a.segment;
  const { from: start } = b.segment;
  if (distance(end, start) <= samePoint) return { end, start: end };
  const adjacent = distance(a.original.to, b.original.from) <= samePoint;
  const [arriving, leaving] = [tangentAt(a.original, 1), tangentAt(b.original, 0)];
  const turn = cross(arriving, leaving);
  if (adjacent && Math.abs(turn) <= smooth) return smoothJoin(a, b);
  const isOutline = a.endsAt === null && b.endsAt === null;
  // Two amounts along what is nearly straight: their lines may meet far away or not at all.
  const steps = isOutline && differ(a, b) && dot(arriving, leaving) > 0;
  const corner = a.endsAt ?? b.endsAt ?? a.original.to;
  const crossing = nearestTo(corner, carrierCrossings(a.segment, b.segment));
  if (crossing === null) {
    if (turn > 0 || steps) return { end, start };
    throw new RangeError(
      `the offset has no corner at ${corner.x.toFixed(1)}, ${corner.y.toFixed(1)}`,
    );
  }
  const reach = Math.max(distance(end, corner), distance(start, b.original.from));
  const isFar = distance(crossing, corner) > mitreLimit * reach;
  // At an inside corner both become shorter, unless one amount is so much larger that it reaches over.
  const isLonger =
    turn > 0 || dot(minus(crossing, end), arriving) > 0 || dot(minus(crossing, start), leaving) < 0;
  return (adjacent || steps) && isFar && isLonger
    ? { end, start }
    : { end: crossing, start: crossing };
}

function differ(a: Moved, b: Moved): boolean {
  return Math.abs(a.amount - b.amount) > samePoint;
}

/** A step between two amounts; one amount goes on, and the little by which the two are apart is shared. */
function smoothJoin(a: Moved, b: Moved): Corner {
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

/** The segment between two other points of the line or circle it lies on. */
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
  // Trimming an arc away to nothing must not turn it into the rest of its circle.
  const kept = swept - Math.abs(sweepOf(segment.bulge)) > Math.PI ? swept - full : swept;
  return { from, to, bulge: bulgeOf(kept * direction) };
}
