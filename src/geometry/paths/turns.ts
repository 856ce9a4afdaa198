import type { Path } from './path.ts';
import { segmentsOf } from './path.ts';
import type { Point } from './point.ts';
import { cross, dot } from './point.ts';
import type { Segment } from './segment.ts';
import { arcOf, pointAt, segmentLength, tangentAt } from './segment.ts';

/**
 * A corner that turns by less than this (degrees) belongs to a curve that was drawn in straight pieces.
 */
export const softDeg = 15;

/** A turn of less than this (radians) is only rounding: the path goes straight on, or is smooth. */
const straight = 1e-9;

/** One place at which a path changes its heading: an arc, or a corner between two segments. */
export interface HeadingChange {
  /** The corner, or the middle of the arc. */
  readonly at: Point;
  /** Radians, positive to the left. */
  readonly turn: number;
  /** Radius of the bend, mm; 0 at a sharp corner. */
  readonly radius: number;
  /** Length of the bend, mm; 0 at a sharp corner. */
  readonly length: number;
}

/**
 * Every arc and every corner, in the path's own direction. Where the path goes straight on there is none.
 */
export function turnsOf(path: Path): HeadingChange[] {
  const segments = segmentsOf(path);
  return segments.flatMap((segment, i) => {
    const next = segments[i + 1] ?? (path.closed ? segments[0] : undefined);
    return [...arcTurn(segment), ...(next === undefined ? [] : cornerTurn(segment, next))];
  });
}

function arcTurn(segment: Segment): HeadingChange[] {
  if (segment.bulge === 0) return [];
  const { radius, sweep } = arcOf(segment);
  return [{ at: pointAt(segment, 0.5), turn: sweep, radius, length: radius * Math.abs(sweep) }];
}

/**
 * The turn at a corner. A soft corner stands for a curve from the middle of one segment to the middle of
 * the next.
 */
function cornerTurn(before: Segment, after: Segment): HeadingChange[] {
  const [into, out] = [tangentAt(before, 1), tangentAt(after, 0)];
  const turn = Math.atan2(cross(into, out), dot(into, out));
  if (Math.abs(turn) < straight) return [];
  const at = after.from;
  if (Math.abs(turn) >= (softDeg * Math.PI) / 180) return [{ at, turn, radius: 0, length: 0 }];
  const length = (segmentLength(before) + segmentLength(after)) / 2;
  return [{ at, turn, radius: length / Math.abs(turn), length }];
}
