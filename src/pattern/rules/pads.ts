import type { Finding } from '../../base/findings.ts';
import { pieceError, pieceWarning } from '../findings.ts';
import type { Piece } from '../piece.ts';
import { featuresForAll } from '../piece.ts';
import type { Hand } from '../words.ts';
import { driverSide, otherHand } from '../words.ts';

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

/**
 * Rule: an order for the driver's pads gets one in either hand. A pad on a piece that is fixed to one side of the
 * body is the driver's in one hand alone, unless something on the other side has one too.
 */
export function checkLonePads(pieces: readonly Piece[]): Finding[] {
  const padded = pieces.filter(hasPad);
  const [first] = padded;
  if (first === undefined) return [];
  const { side, decided, open } = first.entry;
  if ((side !== 'left' && side !== 'right') || padded.some(({ entry }) => entry.side !== side)) {
    return [];
  }
  if (decided !== undefined || open?.['side'] !== undefined) return [];
  const hand: Hand = driverSide('RHD') === side ? 'RHD' : 'LHD';
  const message = `the heel pad is on the ${side} of the body alone: an order for the driver’s pads gets it in ${hand}, and none in ${otherHand(hand)}.`;
  const todo =
    'Make the piece a pair, or let it go with the driver; or write why one hand has no pad as "decided:".';
  return [pieceWarning(first, { rule: 'pad-one-hand', message, todo })];
}

function hasPad({ features }: Piece): boolean {
  return features.some(({ role }) => role === 'PAD');
}
