import type { Point } from '../paths/point.ts';
import { plus, rightOf, times } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { arcOf, tangentAt } from '../paths/segment.ts';
import { samePoint } from '../paths/tolerance.ts';

/** A segment of an outline beside what it becomes when moved to its right by an amount, mm. */
export interface MovedSegment {
  readonly original: Segment;
  readonly segment: Segment;
  readonly amount: number;
  /** Whether what it was moved by is folded back over the original. */
  readonly folded: boolean;
  /** Near where it ends a folded allowance: its corner, as a rule; null for the outline's own segments. */
  readonly endsAt: Point | null;
}

/** A stretch of a cut line with what it was trimmed from; null where it joins two of those straight across. */
export interface CutPiece {
  readonly of: MovedSegment | null;
  readonly segment: Segment;
}

/** Turns flatter than this (sine) are no corner: 0.06 degrees. */
export const smooth = 1e-3;

/** A segment moved to its right, outwards on a counter-clockwise path; null where an arc has no radius left. */
export function moveSegment(
  original: Segment,
  amount: number,
  isFolded: boolean,
): MovedSegment | null {
  const { from, to, bulge } = original;
  const shift = (t: number): Point => times(rightOf(tangentAt(original, t)), amount);
  const segment = { from: plus(from, shift(0)), to: plus(to, shift(1)), bulge };
  const moved = { original, segment, amount, folded: isFolded && amount > 0, endsAt: null };
  if (bulge === 0) return moved;
  // Counter-clockwise arcs have their outside to the right and grow; the others shrink.
  const radius = arcOf(original).radius + Math.sign(bulge) * amount;
  return radius > samePoint ? moved : null;
}
