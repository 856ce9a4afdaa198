import type { Finding } from '../../base/findings.ts';
import { besideLine } from '../beside-line.ts';
import { pieceError, pieceWarning } from '../findings.ts';
import { saysHalf } from '../first-look/side-words.ts';
import type { Piece } from '../piece.ts';
import { hasTwin } from './twins.ts';

/** A straight edge shorter than this (mm) may meet the AXIS by chance. */
const leastAlong = 20;

/**
 * Rules: a piece whose straight edge lies along the AXIS, and which lies on one side of that alone, or
 * whose name says half, is drawn whole. A centre piece cannot lie beside the vehicle’s centreline, so
 * there it is an error. What is fixed to a side and has its twin on the other may be a floor in two
 * halves, and so may a pair.
 */
export function checkHalfDrawn(piece: Piece, pieces: readonly Piece[]): Finding[] {
  const { side, half, decided, open } = piece.entry;
  if (half || side === 'pair' || decided !== undefined || open?.['side'] !== undefined) return [];
  const isAlong = liesAlongAxis(piece);
  if (!isAlong && !saysHalf(piece.name)) return [];
  if (side !== 'centre' && hasTwin(piece, pieces)) return [];
  const wording = { rule: 'half-drawn', message: isAlong ? alongAxis : named, todo: toHalf };
  return [isAlong && side === 'centre' ? pieceError(piece, wording) : pieceWarning(piece, wording)];
}

const alongAxis =
  'the AXIS runs along a straight edge of this piece, which lies on one side of it alone: only one half of it may be drawn, and nothing but that half would be cut.';
const named =
  'the name of the piece says half, and the set file does not say that only one half is drawn.';
const toHalf =
  'If one half is drawn, write "half: true" with "side: centre": then it is mirrored in its AXIS. If all of it is drawn, write why as "decided:".';

/** Whether a straight edge of a piece lies along its AXIS, and the piece on one side of it. */
export function liesAlongAxis({ axis, outline }: Piece): boolean {
  if (axis === null) return false;
  const { side, along } = besideLine(outline, axis);
  return side !== null && along >= leastAlong;
}
