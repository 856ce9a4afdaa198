import type { Finding } from '../../base/findings.ts';
import { wordSpot } from '../../base/findings.ts';
import { mirrorLineOf } from '../../geometry/fitting/mirror.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { besideTolerance } from '../beside-line.ts';
import type { DrawnPlace } from '../findings.ts';
import { pieceError } from '../findings.ts';
import type { Follows } from '../layers.ts';
import { followsPerson, layerName } from '../layers.ts';
import type { Piece } from '../piece.ts';
import type { Feature } from '../feature.ts';

/**
 * Rules on what a change of hand needs to know: where features go, and that somebody has thought about
 * it.
 */
export function checkHands(piece: Piece): Finding[] {
  return [
    ...piece.features.flatMap((feature) => checkPresence(piece, feature)),
    ...checkDecided(piece),
    ...checkAxis(piece),
  ];
}

/** The side on which a piece never lies, by the `side` of the piece. */
const never: Partial<Record<Piece['entry']['side'], Follows>> = {
  left: 'RIGHT',
  right: 'LEFT',
  driver: 'PASSENGER',
  passenger: 'DRIVER',
};

/** Rule: a feature is not for a side on which its piece never lies. It would silently never be cut. */
function checkPresence(piece: Piece, feature: Feature): Finding[] {
  const { side } = piece.entry;
  if (feature.follows === null || feature.follows !== never[side]) return [];
  const message = `a ${layerName(feature)} on a "${side}" piece can never be cut.`;
  const todo = 'Change its layer, or the side of the piece.';
  return [pieceError(piece, { rule: 'never-present', message, todo }, spotOf(feature))];
}

/**
 * Rule: a feature that goes with a person, on a piece fixed to the left or right of the body, exists for
 * one hand only. That is rarely meant, so the set file must say that it is.
 */
function checkDecided(piece: Piece): Finding[] {
  const { side, decided } = piece.entry;
  if ((side !== 'left' && side !== 'right') || decided !== undefined) return [];
  const follower = piece.features.find(followsPerson);
  if (follower === undefined) return [];
  const message = `a ${layerName(follower)} on a piece that is fixed to the ${side} of the body is there in one hand alone.`;
  const todo =
    'Write down why that is right as "decided:" of the piece in the set file, or take the suffix off its layer.';
  return [pieceError(piece, { rule: 'not-decided', message, todo }, spotOf(follower))];
}

/**
 * Rule: on a centre piece, what changes side is mirrored in the vehicle's centreline, and what is sewn is divided by
 * it, so that line must be drawn.
 */
function checkAxis(piece: Piece): Finding[] {
  const { side, outline } = piece.entry;
  if (side !== 'centre' || piece.axis !== null) return [];
  const follower = piece.features.find(followsPerson);
  const sewn = liesBeside(piece) ? piece.features.find(({ role }) => role === 'SEAM') : undefined;
  if (follower === undefined && outline === 'body' && sewn === undefined) return [];
  const what =
    follower !== undefined
      ? `its ${follower.role} follows a person, and there is no AXIS line to mirror it in`
      : outline !== 'body'
        ? 'its outline follows the driver, and there is no AXIS line to mirror it in'
        : 'it is sewn to others and is drawn wholly beside the vehicle’s centreline, and there is no AXIS line to say where that runs: which part of an edge lies on which side is not clear';
  const message = `${what}.`;
  const todo = `Draw the vehicle’s centreline on layer AXIS.${proposedAxis(piece)}`;
  const spotted = follower ?? sewn;
  const spot = spotted === undefined ? {} : spotOf(spotted);
  return [pieceError(piece, { rule: 'no-axis', message, todo }, spot)];
}

/** Whether a piece without an AXIS lies wholly on one side of the vehicle's centreline, or ends there. */
function liesBeside({ outline, entry }: Piece): boolean {
  const { minX, maxX } = boxOfPath(outline);
  const [across] = entry.at;
  return minX + across >= -besideTolerance || maxX + across <= besideTolerance;
}

/** An outline that is its own mirror image to so many mm shows where its middle is. */
const symmetrical = 1;

/** Where the outline of a centre piece shows that its AXIS belongs; empty: it does not show it. */
function proposedAxis({ outline }: Piece): string {
  const line = mirrorLineOf(outline, symmetrical);
  if (line === null) return '';
  return ` Its outline is symmetrical in the line from ${wordSpot(line.from)} to ${wordSpot(line.to)}: it belongs there, if the piece lies across the middle of the vehicle.`;
}

function spotOf({ line, path }: Feature): DrawnPlace {
  return { line, at: path.vertices[0]! };
}
