import type { Path } from './path.ts';
import { pathOf, segmentsOf } from './path.ts';
import type { Point } from './point.ts';
import { cross, distance, dot, minus, plus, times } from './point.ts';
import type { Segment } from './segment.ts';
import { arcOf, bulgeOf, sweepOf, tangentAt } from './segment.ts';
import { carrierCrossings } from './crossings.ts';
import { samePoint } from './tolerance.ts';

/** A segment moved to its right by its own amount, beside the one it came from. */
interface Moved {
  readonly original: Segment;
  readonly segment: Segment;
}

/** The corner between two moved segments: where the first now ends and the second begins. */
interface Corner {
  readonly end: Point;
  readonly start: Point;
}

/** Turns flatter than this (sine) are no corner: 0.06 degrees. */
const smooth = 1e-3;

/**
 * A closed counter-clockwise path with each segment moved outwards by its own amount (mm, negative:
 * inwards; one amount a segment). Lines stay lines and arcs stay arcs about their own centres.
 * Corners are mitred; a mitre longer than `mitreLimit` times the larger amount is cut straight across.
 * Where amounts differ along a smooth run the path steps. An arc whose radius is used up is left out
 * and its neighbours are joined. The result can cross itself where an amount is too large for the
 * shape: ask selfCrossings. Throws RangeError where two neighbours cannot be joined at all.
 */
export function offsetPath(path: Path, amounts: readonly number[], mitreLimit: number): Path {
  let moved = segmentsOf(path)
    .map((segment, i) => move(segment, amounts[i]!))
    .filter((item) => item !== null);
  for (;;) {
    if (moved.length < 2) throw new RangeError('nothing is left of the path at this offset');
    const corners = moved.map((item, i) => join(item, moved[(i + 1) % moved.length]!, mitreLimit));
    const trimmed = moved.map(({ segment }, i) => {
      const before = corners[(i - 1 + corners.length) % corners.length]!;
      return between(segment, before.start, corners[i]!.end);
    });
    const kept = moved.filter((item, i) => !runsBack(item.segment, trimmed[i]!));
    if (kept.length === moved.length) return assemble(trimmed, corners);
    // A segment that its neighbours leave nothing of is passed over, and they are joined anew.
    moved = kept;
  }
}

function assemble(trimmed: readonly Segment[], corners: readonly Corner[]): Path {
  const segments = trimmed.flatMap((segment, i): Segment[] => {
    const { end, start } = corners[i]!;
    return [segment, { from: end, to: start, bulge: 0 }];
  });
  return pathOf(
    segments.filter(({ from, to }) => distance(from, to) > samePoint),
    true,
  );
}

/** Whether trimming turned a segment round. */
function runsBack(segment: Segment, trimmed: Segment): boolean {
  if (segment.bulge !== 0) return segment.bulge * trimmed.bulge < 0;
  return dot(minus(segment.to, segment.from), minus(trimmed.to, trimmed.from)) < 0;
}

/** null where an arc has no radius left. */
function move(original: Segment, amount: number): Moved | null {
  const { from, to, bulge } = original;
  const shift = (t: number): Point => times(rightOf(tangentAt(original, t)), amount);
  const segment = { from: plus(from, shift(0)), to: plus(to, shift(1)), bulge };
  if (bulge === 0) return { original, segment };
  // Counter-clockwise arcs have their outside to the right and grow; the others shrink.
  const radius = arcOf(original).radius + Math.sign(bulge) * amount;
  return radius > samePoint ? { original, segment } : null;
}

function rightOf({ x, y }: Point): Point {
  return { x: y, y: -x };
}

function join(a: Moved, b: Moved, mitreLimit: number): Corner {
  const { to: end } = a.segment;
  const { from: start } = b.segment;
  if (distance(end, start) <= samePoint) return { end, start: end };
  const adjacent = distance(a.original.to, b.original.from) <= samePoint;
  const turn = cross(tangentAt(a.original, 1), tangentAt(b.original, 0));
  if (adjacent && Math.abs(turn) <= smooth) return { end, start };
  const corner = a.original.to;
  const crossing = nearestTo(corner, carrierCrossings(a.segment, b.segment));
  const reach = Math.max(distance(end, corner), distance(start, b.original.from));
  if (crossing === null) {
    if (turn > 0) return { end, start };
    throw new RangeError(
      `the offset has no corner at ${corner.x.toFixed(1)}, ${corner.y.toFixed(1)}`,
    );
  }
  const isMitreTooLong = adjacent && turn > 0 && distance(crossing, corner) > mitreLimit * reach;
  return isMitreTooLong ? { end, start } : { end: crossing, start: crossing };
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
