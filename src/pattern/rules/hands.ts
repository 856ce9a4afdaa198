import type { Finding } from '../../base/findings.ts';
import type { DrawnPlace } from '../findings.ts';
import { pieceError } from '../findings.ts';
import type { Follows } from '../layers.ts';
import { followsPerson, layerName } from '../layers.ts';
import type { Piece } from '../piece.ts';
import type { Feature } from '../feature.ts';

/** What a change of hand needs to know: where things go, and that somebody thought about it. */
export function checkHands(piece: Piece): Finding[] {
  return [
    ...piece.features.flatMap((feature) => checkPresence(piece, feature)),
    ...checkDecided(piece),
    ...checkAxis(piece),
  ];
}

/** The sides that a piece never lies on, by its own. */
const never: Partial<Record<Piece['sheet']['side'], Follows>> = {
  left: 'RIGHT',
  right: 'LEFT',
  driver: 'PASSENGER',
  passenger: 'DRIVER',
};

/** A feature for a side that its piece never lies on would silently never be cut. */
function checkPresence(piece: Piece, feature: Feature): Finding[] {
  const { side } = piece.sheet;
  if (feature.follows === null || feature.follows !== never[side]) return [];
  const message = `a ${layerName(feature)} on a "${side}" piece can never be cut.`;
  const todo = 'Change its layer, or the side of the piece.';
  return [pieceError(piece, { rule: 'never-present', message, todo }, spotOf(feature))];
}

/** What follows a person on a piece of the body is there in one hand alone: rarely meant, so it is written down. */
function checkDecided(piece: Piece): Finding[] {
  const { side, decided } = piece.sheet;
  if ((side !== 'left' && side !== 'right') || decided !== undefined) return [];
  const follower = piece.features.find(followsPerson);
  if (follower === undefined) return [];
  const message = `a ${layerName(follower)} on a piece that is fixed to the ${side} of the body is there in one hand alone.`;
  const todo =
    'Write down why that is right as "decided:" of the piece in the set file, or take the suffix off its layer.';
  return [pieceError(piece, { rule: 'not-decided', message, todo }, spotOf(follower))];
}

/** What changes side on a centre piece is mirrored in the centreline, so that must be drawn. */
function checkAxis(piece: Piece): Finding[] {
  const { side, outline } = piece.sheet;
  if (side !== 'centre' || piece.axis !== null) return [];
  const follower = piece.features.find(followsPerson);
  if (follower === undefined && outline === 'body') return [];
  const what =
    follower === undefined
      ? 'its outline follows the driver'
      : `its ${follower.role} follows a person`;
  const message = `${what}, and there is no AXIS line to mirror it in.`;
  const todo = 'Draw the vehicle’s centreline on layer AXIS.';
  const spot = follower === undefined ? {} : spotOf(follower);
  return [pieceError(piece, { rule: 'no-axis', message, todo }, spot)];
}

function spotOf({ line, path }: Feature): DrawnPlace {
  return { line, at: path.vertices[0]! };
}
