import type { Finding, Place, Severity } from '../base/findings.ts';
import type { Piece } from './piece.ts';

/** The words of a finding, without its place. */
export type Wording = Pick<Finding, 'rule' | 'message' | 'todo'>;

/** A line of the drawing file, and a point in mm in the frame of the block. */
export type DrawnPlace = Pick<Place, 'line' | 'at'>;

/** An error about a piece. `spot`: its place in the drawing. */
export function pieceError(piece: Piece, wording: Wording, spot: DrawnPlace = {}): Finding {
  return pieceFinding('error', piece, wording, spot);
}

export function pieceWarning(piece: Piece, wording: Wording, spot: DrawnPlace = {}): Finding {
  return pieceFinding('warning', piece, wording, spot);
}

export function pieceNote(piece: Piece, wording: Wording, spot: DrawnPlace = {}): Finding {
  return pieceFinding('note', piece, wording, spot);
}

function pieceFinding(
  severity: Severity,
  { where }: Piece,
  wording: Wording,
  { at, ...line }: DrawnPlace,
): Finding {
  const place = at === undefined ? {} : { at: { x: at.x, y: at.y } };
  return { severity, ...wording, where: { ...where, ...line, ...place } };
}
