import type { Finding } from '../../base/findings.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { sameCurve } from '../../geometry/measuring/same-curve.ts';
import { centreOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import {
  compose,
  reflection,
  rotation,
  transformPath,
  translation,
} from '../../geometry/paths/transform.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import { namedSide } from '../first-look/side-words.ts';
import type { Feature } from '../feature.ts';
import { cuttingRoles } from '../feature.ts';
import { pieceWarning } from '../findings.ts';
import type { Piece } from '../piece.ts';
import { otherSide } from '../words.ts';
import { isSameName } from './side-names.ts';

/** Two outlines drawn by hand are of one shape if they meet within this, mm. */
const tolerance = 0.5;

const mirrored = reflection({ x: 0, y: 0 }, 90);
const unturned: Transform = translation({ x: 0, y: 0 });

/**
 * Rules on a left and a right piece of one name. One that is a copy of the other, where its mirror image
 * is another thing, fits on one side alone. One that is there besides a pair of its name is cut twice.
 * `decided` of either answers.
 */
export function checkCopies(pieces: readonly Piece[]): Finding[] {
  return pieces.flatMap((piece) =>
    pieces
      .filter((other) => other !== piece && areTwins(piece, other))
      .flatMap((other): Finding[] => {
        if (other.entry.side === 'pair') return [besidesPair(piece, other)];
        const isSecond = pieces.indexOf(other) < pieces.indexOf(piece);
        return isSecond && isCopy(piece, other) ? [notMirrored(piece, other)] : [];
      }),
  );
}

/**
 * Rule: two blocks that are copies of each other are one piece: the one was copied in the drawing and
 * forgotten, or it is wanted twice. Only pieces of one side, material and hand are held together, and
 * `decided` of either answers. A left and a right piece have rules of their own.
 */
export function checkDrawnTwice(pieces: readonly Piece[]): Finding[] {
  const drawn = pieces
    .filter(({ entry }) => entry.decided === undefined && entry.open?.['side'] === undefined)
    .map((piece) => ({ piece, area: areaOf(piece.outline) }));
  return drawn.flatMap(({ piece, area }, i): Finding[] => {
    const first = drawn
      .slice(0, i)
      .find((one) => Math.abs(one.area - area) <= likeArea * area && areSame(piece, one.piece));
    return first === undefined ? [] : [drawnTwice(piece, first.piece)];
  });
}

/** Areas of copies differ by no more than this share. */
const likeArea = 1e-3;

function areSame(piece: Piece, other: Piece): boolean {
  const [ours, theirs] = [piece.entry, other.entry];
  const isOneBlock =
    ours.block !== undefined && ours.block === theirs.block && ours.file === theirs.file;
  return (
    !isOneBlock &&
    ours.side === theirs.side &&
    ours.drawnSide === theirs.drawnSide &&
    ours.material === theirs.material &&
    ours.only === theirs.only &&
    piece.features.length === other.features.length &&
    [unturned, rotation(180)].some((way) => meetsOther(piece, other, way))
  );
}

function drawnTwice(piece: Piece, other: Piece): Finding {
  const message = `it is drawn exactly as "${other.name}" is, for the same side and of the same material: one of the two blocks may be a copy.`;
  const todo = `Take one of them out of the set, or make it one piece with "quantity: ${piece.entry.quantity + other.entry.quantity}"; if both are meant, write down why as "decided:".`;
  return pieceWarning(piece, { rule: 'drawn-twice', message, todo });
}

/** Whether a piece of one side has the other one's name, and that is for the other side or a pair. */
function areTwins(piece: Piece, other: Piece): boolean {
  const { side } = piece.entry;
  if (side !== 'left' && side !== 'right') return false;
  const isOther = other.entry.side === 'pair' || other.entry.side === otherSide(side);
  const isOpen = [piece, other].some(
    ({ entry }) => entry.decided !== undefined || entry.open?.['side'] !== undefined,
  );
  return isOther && !isOpen && isSameName(namedSide(piece.name).bare, namedSide(other.name).bare);
}

/**
 * Whether a piece is drawn as another one is, moved or half turned, and is no mirror image of it: outline
 * and what is cut inside it, but for what has a suffix and may be on one side only.
 */
export function isCopy(piece: Piece, other: Piece): boolean {
  const meets = (way: Transform): boolean => meetsOther(piece, other, way);
  const turns = [unturned, rotation(180)];
  return turns.some(meets) && !turns.some((turn) => meets(compose(turn, mirrored)));
}

function meetsOther(piece: Piece, other: Piece, way: Transform): boolean {
  const from = centreOf(boxOfPath(transformPath(way, piece.outline)));
  const to = centreOf(boxOfPath(other.outline));
  const onto = compose(translation({ x: to.x - from.x, y: to.y - from.y }), way);
  const [ours, theirs] = [cutInside(piece), cutInside(other)];
  return (
    sameCurve(transformPath(onto, piece.outline), other.outline, tolerance) &&
    ours.length === theirs.length &&
    ours.every(({ role, path }) => {
      const image = transformPath(onto, path);
      return theirs.some((one) => one.role === role && sameCurve(image, one.path, 2 * tolerance));
    })
  );
}

function cutInside({ features }: Piece): Feature[] {
  return features.filter(({ role, follows }) => cuttingRoles.has(role) && follows === null);
}

function notMirrored(piece: Piece, other: Piece): Finding {
  const message = `it is drawn as a copy of "${other.name}" and not as its mirror image, and one is for the left, the other for the right.`;
  const todo =
    'Draw one as the mirror image of the other, make one piece with "side: pair" of them, or write down as "decided:" why both are alike.';
  return pieceWarning(piece, { rule: 'twin-not-mirrored', message, todo });
}

function besidesPair(piece: Piece, pair: Piece): Finding {
  const { side } = piece.entry;
  const message = `"${pair.name}" is a pair, so its ${side} is cut from there, and this piece of the same name is cut for the ${side} too.`;
  const todo = `Take one of the two out of the set, give "${pair.name}" the one side that is missing, or write down as "decided:" why both are wanted.`;
  return pieceWarning(piece, { rule: 'besides-pair', message, todo });
}
