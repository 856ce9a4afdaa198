import type { Finding } from '../../base/findings.ts';
import { decimal } from '../../base/numbers.ts';
import { headingDeg } from '../../geometry/paths/angle.ts';
import { sameCurve } from '../../geometry/measuring/same-curve.ts';
import { minus } from '../../geometry/paths/point.ts';
import { reflectionIn, transformPath } from '../../geometry/paths/transform.ts';
import { axisOnPiece } from '../axis-stretch.ts';
import { pieceWarning } from '../findings.ts';
import type { Piece } from '../piece.ts';

/** An AXIS so near to upright or level (degrees) is drawn as well as people draw. */
const leastAskew = 0.1;

/** An outline that meets its mirror image within this (mm) shows that the AXIS is its middle. */
const symmetrical = 0.5;

/**
 * Rule: an AXIS is upright or level in the drawing. One that slants by a little was drawn by hand from
 * point to point, and what is mirrored in it would be turned by twice as much. A piece may be drawn on
 * the slant; if it is symmetrical, that shows.
 */
export function checkAxisAskew(piece: Piece): Finding[] {
  const { axis, outline } = piece;
  if (axis === null || askewDeg(axis) <= leastAskew) return [];
  const image = transformPath(reflectionIn(axis), outline);
  if (sameCurve(image, outline, symmetrical)) return [];
  const deg = askewDeg(axis);
  const message = `the AXIS line is neither upright nor level in the drawing: it slants by ${decimal(deg, 2)} degrees, so what is mirrored in it is turned by ${decimal(2 * deg, 2)}.`;
  const todo = 'Draw it upright, and turn the piece with it if the piece lies on the slant.';
  return [
    pieceWarning(piece, { rule: 'axis-askew', message, todo }, { at: axisOnPiece(piece)!.from }),
  ];
}

/** By how many degrees a line is off upright or level, whichever is nearer. */
export function askewDeg({ from, to }: NonNullable<Piece['axis']>): number {
  const deg = Math.abs(headingDeg(minus(to, from))) % 90;
  return Math.min(deg, 90 - deg);
}
