import type { Path } from '../geometry/paths/path.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { boxContains, growBox } from '../geometry/paths/box.ts';
import { measurePath } from '../geometry/measuring/measured-path.ts';
import { furthestOutside } from '../geometry/relations/excursion.ts';
import { transformPath } from '../geometry/paths/transform.ts';
import type { Piece } from '../pattern/piece.ts';
import { conditionSuffix } from '../pattern/conditions.ts';
import type { Feature } from '../pattern/feature.ts';
import type { Hand, Side } from '../pattern/words.ts';
import { driverSide, otherSide } from '../pattern/words.ts';
import { centrelineMirror, vehicleFrame } from './frame.ts';
import type { Order } from './order.ts';
import type { PiecePosition } from './sides.ts';
import { isMirrored, isPresent } from './sides.ts';

/** A piece at one of its positions. Everything is in the frame of the vehicle, mm. */
export interface PlacedPiece {
  /** The net outline: closed, counter-clockwise. */
  readonly net: Path;
  readonly features: readonly Feature[];
}

/**
 * The outline of a piece at a position, and the features that it has there for the hand and the options
 * of an order.
 */
export function placePiece(
  piece: Piece,
  position: PiecePosition,
  drawn: Hand,
  order: Order,
): PlacedPiece {
  const features = piece.features.flatMap((feature) =>
    placeOfFeature(feature, piece, position, drawn, order).map((path) => ({ ...feature, path })),
  );
  return { net: placeOfOutline(piece, position), features };
}

/** The outline at a position, in the vehicle's frame. */
export function placeOfOutline(piece: Piece, position: PiecePosition): Path {
  return inVehicle(piece.outline, piece, position.mirrored);
}

/** The paths that a feature has at a position, in the frame of the vehicle: none, one, or two. */
export function placeOfFeature(
  feature: Feature,
  piece: Piece,
  position: PiecePosition,
  drawn: Hand,
  order: Pick<Order, 'hand' | 'heelPads'>,
): Path[] {
  return mirrorsOf(feature, piece, position, drawn, order).map((mirrored) =>
    inVehicle(feature.path, piece, mirrored),
  );
}

/** A path taken from the frame of the block to that of the vehicle, and mirrored there if asked. */
export function inVehicle(path: Path, piece: Piece, mirrored: boolean): Path {
  const placed = transformPath(vehicleFrame(piece), path);
  return mirrored ? transformPath(centrelineMirror, placed) : placed;
}

/** One entry for each time that a feature occurs at a position: whether it is mirrored. */
function mirrorsOf(
  feature: Feature,
  piece: Piece,
  position: PiecePosition,
  drawn: Hand,
  order: Pick<Order, 'hand' | 'heelPads'>,
): boolean[] {
  const leader = leaderOf(feature, piece.features);
  if (leader !== feature) return mirrorsOf(leader, piece, position, drawn, order);
  const mirrored = isMirrored(feature.follows, position, drawn, order.hand);
  if (feature.role === 'PAD') return padMirrors(feature, piece, position, order, mirrored);
  return isPresent(feature.follows, position, order.hand) ? [mirrored] : [];
}

/** A stitch line may be drawn so far outside the outline of its pad, mm. */
export const besidePad = 2;

/**
 * The feature with which another one goes: the pad on which a stitch line lies as a whole, in vehicles of
 * the same options, since that line holds the pad; any other feature goes by itself.
 */
export function leaderOf(feature: Feature, features: readonly Feature[]): Feature {
  if (feature.role !== 'STITCH') return feature;
  const { path, when } = feature;
  const pad = features.find(
    (one) =>
      one.role === 'PAD' &&
      conditionSuffix(one.when) === conditionSuffix(when) &&
      boxContains(growBox(boxOfPath(one.path), besidePad), boxOfPath(path)) &&
      furthestOutside(measurePath(one.path), path, besidePad) === null,
  );
  return pad ?? feature;
}

/**
 * One entry for each time that a drawn heel pad occurs at a position: whether it is mirrored. The order
 * says which pads are wanted. `driver`: those on the driver's side alone, whatever their layer says.
 * `both`: those of the passenger's side too; if there are none, the driver's pad goes to both sides.
 * `none`: none.
 */
function padMirrors(
  pad: Feature,
  piece: Piece,
  position: PiecePosition,
  { heelPads, hand }: Pick<Order, 'heelPads' | 'hand'>,
  mirrored: boolean,
): boolean[] {
  if (heelPads === 'none') return [];
  const present = isPresent(pad.follows, position, hand) ? [mirrored] : [];
  if (heelPads === 'driver') {
    const isPassengers = (way: boolean): boolean =>
      (position.side ?? sideOfPad(inVehicle(pad.path, piece, way))) === otherSide(driverSide(hand));
    return present.filter((way) => !isPassengers(way));
  }
  const drawnForPassenger = piece.features.some(
    ({ role, follows }) => role === 'PAD' && follows === 'PASSENGER',
  );
  const goesToBoth = pad.follows === 'DRIVER' && !drawnForPassenger;
  if (goesToBoth && piece.entry.side === 'centre') return [mirrored, !mirrored];
  if (goesToBoth && piece.entry.side === 'pair') return [mirrored];
  return present;
}

/** The side of the vehicle on which a pad lies. null: across the middle. `pad`: in the vehicle's frame. */
function sideOfPad(pad: Path): Side | null {
  const { minX, maxX } = boxOfPath(pad);
  if (minX < 0 && maxX > 0) return null;
  return maxX <= 0 ? 'left' : 'right';
}
