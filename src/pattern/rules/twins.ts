import type { Finding } from '../../base/findings.ts';
import { rememberedFor } from '../../base/remembered.ts';
import { counted, listed } from '../../base/wording.ts';
import { headingDeg } from '../../geometry/paths/angle.ts';
import { centreOf } from '../../geometry/paths/box.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { boxOfPath, pathLength } from '../../geometry/paths/path.ts';
import { minus } from '../../geometry/paths/point.ts';
import { rotation, transformPath } from '../../geometry/paths/transform.ts';
import type { Feature } from '../feature.ts';
import { cuttingRoles } from '../feature.ts';
import { namedSide } from '../first-look/side-words.ts';
import type { DrawnPlace } from '../findings.ts';
import { pieceNote, pieceWarning } from '../findings.ts';
import type { Conditions } from '../conditions.ts';
import { alikeInConditions } from '../conditions.ts';
import type { Piece } from '../piece.ts';
import type { SetContent } from '../set-file.ts';
import type { CutOutline } from '../twins.ts';
import { isCopy } from './copies.ts';
import { heldAgainstMirror } from '../twins.ts';
import type { Hand } from '../words.ts';
import { driverSide, otherHand } from '../words.ts';
import { entrySide, isSameName } from './side-names.ts';

/** So many are named one by one; the rest is counted. */
const mostNamed = 4;

/** What is cut in a piece, with the feature as it is drawn. */
interface DrawnCut {
  readonly kind: string;
  readonly path: Feature['path'];
  readonly feature: Feature;
}

/** Two pieces, one fixed to each side of the body. */
interface Twins {
  readonly pieces: readonly [Piece, Piece];
  readonly isImage: boolean;
  readonly lone: readonly [readonly DrawnCut[], readonly DrawnCut[]];
}

/**
 * Rules on a left and a right piece that are each other's twins, by their names or by their outlines:
 * what is cut in one of them alone must have been thought about, because it stays on its side of the body
 * and may go with the driver; and where nothing differs and their names do not say left and right, the
 * two could be one pair.
 */
export function checkTwins(
  { drawn }: Pick<SetContent, 'drawn'>,
  pieces: readonly Piece[],
): Finding[] {
  const together = pieces.flatMap((piece) => goneApart(piece, pieces, drawn));
  const twins = twinsAmong(pieces.filter(isFixed)).flatMap(
    ({ pieces: [one, other], isImage, lone }) => {
      if ([one, other].some(({ entry }) => entry.decided !== undefined)) return [];
      // That one is a copy of the other is told by a rule of its own.
      if (isCopy(one, other)) return [];
      const [ours, theirs] = lone;
      if (ours.length + theirs.length === 0)
        return isImage && !areNamedForSides(one, other) && !areOptional(one, other)
          ? [couldBePair(one, other)]
          : [];
      return [
        ...alikeInConditions(ours, whenOf).map((alike) =>
          cutInOneAlone(one, other, alike, isImage, drawn),
        ),
        ...alikeInConditions(theirs, whenOf).map((alike) =>
          cutInOneAlone(other, one, alike, isImage, drawn),
        ),
      ];
    },
  );
  return [...together, ...twins, ...pieces.flatMap((piece) => besidesPair(piece, pieces))];
}

/**
 * A pair is cut for both sides from what is drawn of one: a left or right piece of the same shape besides it
 * would be one too many.
 */
function besidesPair(pair: Piece, pieces: readonly Piece[]): Finding[] {
  const { side, other, material, decided, open } = pair.entry;
  if (side !== 'pair' || other !== undefined || open?.['side'] !== undefined) return [];
  const own = cutsOf(pair);
  return pieces.flatMap((piece) => {
    const isAnswered = decided !== undefined || piece.entry.decided !== undefined;
    if (!isFixed(piece) || isAnswered || piece.entry.material !== material) return [];
    // Pieces of one name are told by that.
    if (isSameName(namedSide(piece.name).bare, namedSide(pair.name).bare)) return [];
    // Outlines of one shape have one area, but for what they may be apart all round.
    const apart = Math.abs(sizeOf(pair).area - sizeOf(piece).area);
    if (apart > 2 * sizeOf(pair).round) return [];
    if (!isCopy(pair, piece) && !heldAgainstMirror(own, cutsOf(piece)).isImage) return [];
    const message = `"${pair.name}" is a pair, so that both sides are cut of it, and this piece has its shape: it would be one too many.`;
    const todo = `Make the two one pair, with this as the other half; take this piece out; or write why there are three as "decided:".`;
    return [pieceWarning(piece, { rule: 'besides-pair', message, todo })];
  });
}

/** The area of a piece, mm2, and the way round it, mm. */
const sizeOf = rememberedFor(({ outline }: Piece) => ({
  area: areaOf(outline),
  round: pathLength(outline),
}));

/**
 * A piece that goes with a person while its namesake on the other side is fixed to the body: in the other
 * hand both lie on one side, and none on the other.
 */
function goneApart(piece: Piece, pieces: readonly Piece[], drawn: Hand): Finding[] {
  const { side } = piece.entry;
  if (side !== 'driver' && side !== 'passenger') return [];
  const fixed = pieces.find(
    (other) =>
      isFixed(other) &&
      other.entry.side !== entrySide(piece.entry, drawn) &&
      isLikeNamed(other.name, piece.name),
  );
  const isAnswered = [piece, fixed].some((one) => one?.entry.decided !== undefined);
  if (fixed === undefined || isAnswered || !isSettled(piece)) return [];
  const second = side === 'driver' ? 'passenger' : 'driver';
  const message = `this piece goes with the ${side}, and "${fixed.name}" stays on the ${fixed.entry.side}: in ${otherHand(drawn)} both lie there, and the other side has neither.`;
  const todo = `Write "side: ${second}" on "${fixed.name}", or why it is right as "decided:".`;
  return [pieceWarning(piece, { rule: 'twins-apart', message, todo })];
}

/** Whether a piece is fixed to one side of the body, and that is no guess. */
function isFixed(piece: Piece): boolean {
  const { side } = piece.entry;
  return (side === 'left' || side === 'right') && isSettled(piece);
}

/** Whether a piece is cut in both hands, and its side is no guess. */
function isSettled({ entry: { only, open } }: Piece): boolean {
  return only === undefined && open?.['side'] === undefined;
}

/** Each right piece with its twin among the left ones: by name, otherwise by its outline. */
function twinsAmong(fixed: readonly Piece[]): Twins[] {
  const lefts = fixed.filter(({ entry }) => entry.side === 'left');
  return fixed
    .filter(({ entry }) => entry.side === 'right')
    .flatMap((right) => {
      const own = cutsOf(right);
      const compared = lefts.map((left): Twins => {
        return { pieces: [right, left], ...heldAgainstMirror(own, cutsOf(left)) };
      });
      const twin =
        compared.find(({ pieces }) => isLikeNamed(pieces[1].name, right.name)) ??
        compared.find(({ isImage }) => isImage);
      return twin === undefined ? [] : [twin];
    });
}

function whenOf({ feature }: DrawnCut): Conditions {
  return feature.when;
}

/** Whether something on two pieces depends on options: with others they may differ. */
function areOptional(...pieces: readonly Piece[]): boolean {
  return pieces.some(({ forAll }) => forAll !== null);
}

/** Whether the names of two pieces say their sides: then somebody meant them to be two. */
function areNamedForSides(...pieces: readonly Piece[]): boolean {
  return pieces.every(({ name, entry }) => namedSide(name).says === entry.side);
}

/** Whether a left or right piece has its twin among others, on the other side of the vehicle. */
export function hasTwin(piece: Piece, pieces: readonly Piece[]): boolean {
  const own = cutsOf(piece);
  return pieces.some(
    (other) =>
      ['left', 'right'].includes(other.entry.side) &&
      other.entry.side !== piece.entry.side &&
      (isLikeNamed(other.name, piece.name) || heldAgainstMirror(own, cutsOf(other)).isImage),
  );
}

/** Whether two names are the same but for words for sides, and a number that only tells them apart. */
function isLikeNamed(one: string, other: string): boolean {
  const bare = (name: string): string => namedSide(name).bare.replace(/[ -]\d+$/, '');
  return isSameName(bare(one), bare(other));
}

/** A piece with its front at the top. What has a suffix has been thought about already. */
const cutsOf = rememberedFor(({ outline, features, axis }: Piece): CutOutline<DrawnCut> => {
  const upright = rotation(axis === null ? 0 : 90 - headingDeg(minus(axis.to, axis.from)));
  const cuts = features
    .filter(({ role, follows }) => follows === null && cuttingRoles.has(role))
    .map((feature) => ({
      kind: feature.role,
      path: transformPath(upright, feature.path),
      feature,
    }));
  return { outline: transformPath(upright, outline), cuts };
});

function cutInOneAlone(
  piece: Piece,
  other: Piece,
  lone: readonly DrawnCut[],
  isImage: boolean,
  drawn: Hand,
): Finding {
  const side = piece.entry.side === 'left' ? 'left' : 'right';
  const isDrivers = driverSide(drawn) === side;
  const [person, second] = isDrivers ? ['driver', 'passenger'] : ['passenger', 'driver'];
  const roles = listed([...new Set(lone.map(({ kind }) => kind))]);
  const suffixed = `${lone[0]!.kind}-${person.toUpperCase()}`;
  const isOne = lone.length === 1;
  const message = `${wordCuts(lone)} ${isOne ? 'has' : 'have'} nothing like ${isOne ? 'it' : 'them'} on the twin "${other.name}", and ${isOne ? 'stays' : 'stay'} on the ${side} in ${otherHand(drawn)}, which is then the ${second}’s side.`;
  const asPair = isImage
    ? `; or make the two one piece with "side: pair", "drawnSide: ${side}" and "other:", and put it on ${suffixed}`
    : '';
  const todo = `If the ${roles} must go with the ${person}, write "side: ${person}" here and "side: ${second}" on "${other.name}"${asPair}. If it belongs to the ${side} of the body, write why as "decided:", or put -${side.toUpperCase()} behind its layer.`;
  return pieceWarning(piece, { rule: 'twins-differ', message, todo }, placeOf(lone[0]!.feature));
}

function wordCuts(lone: readonly DrawnCut[]): string {
  const named = lone.slice(0, mostNamed).map(({ feature }) => {
    const { x, y } = centreOf(boxOfPath(feature.path));
    return `a ${feature.role} at ${x.toFixed(1)}, ${y.toFixed(1)}`;
  });
  const more = lone.length - named.length;
  return listed([...named, ...(more > 0 ? [counted(more, 'more', 'more')] : [])]);
}

function couldBePair(piece: Piece, other: Piece): Finding {
  const message = `its outline and what is cut in it are the mirror image of "${other.name}": the two could be one piece.`;
  const todo = `Make it "side: pair" with "drawnSide: ${piece.entry.side}" and the block of the other as "other:"; then one is held against the other. Or leave them as they are, and write why as "decided:".`;
  return pieceNote(piece, { rule: 'could-be-pair', message, todo });
}

function placeOf({ path, line }: Feature): DrawnPlace {
  return { line, at: centreOf(boxOfPath(path)) };
}
