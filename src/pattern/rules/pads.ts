import type { Finding } from '../../base/findings.ts';
import { pieceError } from '../findings.ts';
import type { Piece } from '../piece.ts';
import { featuresForAll } from '../piece.ts';

/**
 * Rule: a drawn heel pad needs a material for pads in the set file, and that material needs a drawn pad.
 */
export function checkPad(piece: Piece): Finding[] {
  const drawn = featuresForAll(piece).find(({ role }) => role === 'PAD');
  if (drawn !== undefined && piece.entry.pad === undefined) {
    const message = 'a heel pad is drawn, and the set names no material for it.';
    const wording = { rule: 'pad-material', message, todo: 'Add "pad:" to the piece.' };
    return [pieceError(piece, wording, { line: drawn.line })];
  }
  if (drawn !== undefined || piece.entry.pad === undefined) return [];
  const message = 'the set names a heel pad, and none is drawn.';
  const todo = 'Draw it on layer PAD or PAD-DRIVER, or remove "pad:".';
  return [pieceError(piece, { rule: 'no-pad', message, todo })];
}
