import type { Finding, Severity } from '../../base/findings.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Piece } from '../../pattern/piece.ts';
import { entrySide } from '../../pattern/rules/side-names.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { Side } from '../../pattern/words.ts';
import { otherSide } from '../../pattern/words.ts';
import { outlineInVehicle } from '../frame.ts';
import { isPlaced, sideOfBox } from './lies.ts';
import { isDrawnHandDoubtful } from './suffix-sides.ts';

/** A piece that lies wholly on one side of the vehicle, and the side that its entry says. */
interface SidedPiece {
  readonly piece: Piece;
  readonly said: Side;
  readonly lies: Side;
  readonly box: Box;
}

/**
 * Rule: a piece is drawn on the side that the set file says. If `at` or an AXIS says where it lies in the
 * vehicle, it is certain that one of the two is wrong: an error. Otherwise the drawing may show the pieces
 * in no order at all. It counts as drawn in place if most pieces with a side lie on theirs, some on the
 * left and some on the right; then the others are warnings. A side that is still an open question says
 * nothing, nor does a person's while it is in doubt which hand is drawn.
 */
export function checkSidesDrawn(patterns: PatternSet): Finding[] {
  const { content } = patterns;
  const sided = sidedPieces(patterns);
  const placed = sided.filter(({ piece }) => isPlaced(piece));
  const loose = sided.filter(({ piece }) => !isPlaced(piece));
  // That `at` of the set says so for all of them is as certain as of one.
  if (content.at !== undefined) {
    return sided.filter(isElsewhere).map((one) => elsewhere(one, 'error'));
  }
  return [
    ...placed.filter(isElsewhere).map((one) => elsewhere(one, 'error')),
    ...(areInPlace(loose) ? loose : []).filter(isElsewhere).map((one) => elsewhere(one, 'warning')),
  ];
}

/**
 * The pieces that are drawn on the other side of the vehicle's middle than theirs in a drawing that shows
 * its pieces in no order: where they lie in the vehicle nobody has said. One piece alone shows no order.
 */
export function strayPieces(patterns: PatternSet): Piece[] {
  if (patterns.content.at !== undefined) return [];
  const loose = sidedPieces(patterns).filter(({ piece }) => !isPlaced(piece));
  if (loose.length < 2 || areInPlace(loose)) return [];
  return loose.filter(isElsewhere).map(({ piece }) => piece);
}

function sidedPieces(patterns: PatternSet): SidedPiece[] {
  const { pieces, content } = patterns;
  const isHandDoubtful = isDrawnHandDoubtful(patterns);
  return pieces.flatMap((piece) => {
    const isPersons = piece.entry.side === 'driver' || piece.entry.side === 'passenger';
    if (isPersons && isHandDoubtful) return [];
    const said = entrySide(piece.entry, content.drawn);
    const box = boxOfPath(outlineInVehicle(piece));
    const lies = sideOfBox(box);
    const isGuess = ['side', 'drawnSide'].some((key) => piece.entry.open?.[key] !== undefined);
    return said === null || lies === null || isGuess ? [] : [{ piece, said, lies, box }];
  });
}

function isElsewhere({ said, lies }: SidedPiece): boolean {
  return said !== lies;
}

function areInPlace(sided: readonly SidedPiece[]): boolean {
  const right = sided.filter((one) => !isElsewhere(one));
  const both = new Set(right.map(({ lies }) => lies)).size === 2;
  return both && right.length >= 2 * (sided.length - right.length);
}

function elsewhere({ piece, said, lies, box }: SidedPiece, severity: Severity): Finding {
  const { side, drawnSide } = piece.entry;
  const entry = side === 'pair' ? `drawnSide: ${drawnSide}` : `side: ${side}`;
  const means =
    side === said || side === 'pair' ? '' : `, that is on the ${said} in the drawn hand`;
  const [from, to] = lies === 'left' ? [-box.maxX, -box.minX] : [box.minX, box.maxX];
  const far = `${Math.max(0, from).toFixed(0)} to ${to.toFixed(0)} mm ${lies} of the middle of the vehicle`;
  return {
    severity,
    rule: 'drawn-elsewhere',
    message: `the set file says "${entry}"${means}, and the piece is drawn ${far}.`,
    todo: `Write ${side === 'pair' ? `"drawnSide: ${lies}"` : 'the side on which it belongs'}, draw it on the ${otherSide(lies)}, or say with "at:" where it lies.`,
    where: piece.where,
  };
}
