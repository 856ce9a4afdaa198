import type { Finding } from '../../base/findings.ts';
import { decimal } from '../../base/numbers.ts';
import { quotedNames } from '../../base/wording.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { axisOnPiece } from '../axis-stretch.ts';
import { traceTolerance } from '../edges.ts';
import type { DrawnLine } from '../feature.ts';
import { pieceWarning } from '../findings.ts';
import { isLevel } from '../pile.ts';
import type { Piece } from '../piece.ts';
import { askewDeg } from './axis-askew.ts';
import { axisOffMiddle } from './axis-middle.ts';

/** So far beside x = 0 (mm) a centreline is drawn as well as people draw. */
const leastBeside = 0.5;

/** A piece that is drawn across x = 0, and where its AXIS lies. */
interface PieceAcross {
  readonly piece: Piece;
  readonly axis: DrawnLine;
  readonly x: number;
}

/**
 * Rule: pieces of one drawing that are drawn in their places in the vehicle have one centreline, x = 0.
 * They count as drawn so if they lie across it, have no `at`, and most have their AXIS on it.
 */
export function checkAxisPlaces(pieces: readonly Piece[]): Finding[] {
  const across = pieces.flatMap(acrossMiddle);
  const files = new Set(across.map(({ piece }) => piece.where.file));
  return [...files].flatMap((file) => {
    const own = across.filter(({ piece }) => piece.where.file === file);
    const inPlace = own.filter(({ x }) => Math.abs(x) <= leastBeside);
    const beside = own.filter((one) => !inPlace.includes(one));
    if (inPlace.length < beside.length) return [];
    // Where the outline itself shows where its middle is, the rule on that has told it.
    return beside
      .filter(({ piece }) => axisOffMiddle(piece) === null)
      .map((one) => besideOthers(one, inPlace));
  });
}

function acrossMiddle(piece: Piece): PieceAcross[] {
  const { axis, entry, outline } = piece;
  if (axis === null || entry.at[0] !== 0 || isLevel(axis) || askewDeg(axis) > 1) return [];
  const { minX, maxX } = boxOfPath(outline);
  if (minX >= -traceTolerance || maxX <= traceTolerance) return [];
  return [{ piece, axis, x: (axis.from.x + axis.to.x) / 2 }];
}

function besideOthers({ piece, x }: PieceAcross, others: readonly PieceAcross[]): Finding {
  const names = others.map(({ piece: { name } }) => name);
  const message = `the AXIS line lies ${decimal(Math.abs(x), 1)} mm ${x < 0 ? 'left' : 'right'} of x = 0, where that of ${quotedNames(names, 4)} lies in the same drawing: what is mirrored in it would be cut ${decimal(2 * Math.abs(x), 1)} mm off if this piece is drawn in its place too.`;
  const todo = 'Draw it at x = 0, unless the piece itself is drawn so far beside its place.';
  return pieceWarning(
    piece,
    { rule: 'axis-beside', message, todo },
    { at: axisOnPiece(piece)!.from },
  );
}
