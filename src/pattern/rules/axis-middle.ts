import type { Finding } from '../../base/findings.ts';
import { sameCurve } from '../../geometry/measuring/same-curve.ts';
import { centreOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { dot, leftOf, minus, plus, times, unit } from '../../geometry/paths/point.ts';
import {
  reflectionIn,
  rotation,
  transformPath,
  transformPoint,
} from '../../geometry/paths/transform.ts';
import { headingDeg } from '../../geometry/paths/angle.ts';
import type { DrawnLine } from '../feature.ts';
import { pieceWarning } from '../findings.ts';
import type { Piece } from '../piece.ts';
import { liesAlongAxis } from './half-drawn.ts';

/** An AXIS that lies beside the middle by no more than this (mm) is drawn as well as people draw. */
const leastOff = 0.5;

/** An AXIS that is not the middle of an outline which has one. */
export interface OffMiddle {
  /** How far the AXIS lies beside the middle, mm. */
  readonly off: number;
  /** The line in which the outline is its own mirror image. */
  readonly middle: DrawnLine;
}

/**
 * Whether the AXIS of a piece lies beside the middle of an outline that is symmetrical but for that: its
 * mirror image in a line beside the AXIS fits much better than the AXIS is off. null: it does not, or
 * there is no AXIS.
 */
export function axisOffMiddle({ axis, outline }: Piece): OffMiddle | null {
  if (axis === null) return null;
  const along = unit(minus(axis.to, axis.from));
  const upright = rotation(90 - headingDeg(along));
  const middleX = centreOf(boxOfPath(transformPath(upright, outline))).x;
  const aside = middleX - transformPoint(upright, axis.from).x;
  const off = Math.abs(aside);
  if (off <= leastOff) return null;
  const shift = times(leftOf(along), -aside);
  const middle = { from: plus(axis.from, shift), to: plus(axis.to, shift) };
  const image = transformPath(reflectionIn(middle), outline);
  // What sticks out on one side alone moves the middle by half of that, and its image misses by all of it.
  return sameCurve(image, outline, Math.max(leastOff, off / 5)) ? { off, middle } : null;
}

/**
 * Rule: the AXIS of an outline that is symmetrical is the middle of it. What is mirrored in it for the
 * other hand would else be off by twice as much.
 */
export function checkAxisMiddle(piece: Piece): Finding[] {
  const { entry, axis, outline } = piece;
  // With the AXIS along its edge, whether half of the piece is drawn is the question.
  if (axis === null || entry.side !== 'centre' || liesAlongAxis(piece)) return [];
  const found = axisOffMiddle(piece);
  if (found === null) return [];
  const { off } = found;
  const message = `the AXIS line lies ${off.toFixed(1)} mm beside the middle of this outline, which is symmetrical: what is mirrored for the other hand would be cut ${(2 * off).toFixed(1)} mm off.`;
  const todo =
    'Draw it in the middle, unless the piece itself lies beside the middle of the vehicle.';
  const along = unit(minus(axis.to, axis.from));
  const centre = minus(centreOf(boxOfPath(outline)), axis.from);
  const at = plus(axis.from, times(along, dot(centre, along)));
  return [pieceWarning(piece, { rule: 'axis-off-middle', message, todo }, { at })];
}
