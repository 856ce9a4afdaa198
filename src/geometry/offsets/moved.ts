import type { Point } from '../paths/point.ts';
import { plus, rightOf, times } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { arcOf, tangentAt } from '../paths/segment.ts';
import { samePoint } from '../paths/tolerance.ts';

/** A segment of an outline, and what it becomes when it is moved to its right by `amount` mm. */
export interface MovedSegment {
  readonly original: Segment;
  readonly segment: Segment;
  readonly amount: number;
  /** Whether the strip between `original` and `segment` is folded back over the piece. */
  readonly folded: boolean;
  /**
   * For a line that ends a folded allowance: the corner of the outline that it belongs to, or a point
   * near it. null: this is a segment of the outline itself.
   */
  readonly endsAt: Point | null;
}

/**
 * A segment of a cut line, and the moved segment that it was trimmed from. `of` is null for a line that
 * joins two trimmed segments straight across.
 */
export interface CutPiece {
  readonly of: MovedSegment | null;
  readonly segment: Segment;
}

/** The sine of 0.06 degrees. A smaller turn is no corner. */
export const smooth = 1e-3;

/**
 * Moves a segment to its right by `amount` mm; on a counter-clockwise path that is outwards. An arc keeps
 * its centre. null: the radius of the arc is used up.
 */
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
  // A counter-clockwise arc has its outside to the right and grows; a clockwise one shrinks.
  const radius = arcOf(original).radius + Math.sign(bulge) * amount;
  return radius > samePoint ? moved : null;
}
