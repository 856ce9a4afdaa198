import type { Path } from '../geometry/paths/path.ts';
import { transformPath } from '../geometry/paths/transform.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Feature } from '../pattern/feature.ts';
import type { Hand } from '../pattern/words.ts';
import { centrelineMirror, vehicleFrame } from './frame.ts';
import type { Order } from './order.ts';
import type { PiecePosition } from './sides.ts';
import { isMirrored, isPresent } from './sides.ts';

/** A piece at one of its positions: everything in the vehicle's frame, mm. */
export interface PlacedPiece {
  /** Closed, counter-clockwise. */
  readonly net: Path;
  readonly features: readonly Feature[];
}

/** The outline and the features that an order's hand and options put at a position. */
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

/** The feature as often as it is there at a position, in the vehicle's frame. */
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

/** From the block's frame to the vehicle's, or on to the mirror image there. */
export function inVehicle(path: Path, piece: Piece, mirrored: boolean): Path {
  const placed = transformPath(vehicleFrame(piece), path);
  return mirrored ? transformPath(centrelineMirror, placed) : placed;
}

/** How often a feature is there at a position, and each time whether mirrored. */
function mirrorsOf(
  feature: Feature,
  piece: Piece,
  position: PiecePosition,
  drawn: Hand,
  order: Pick<Order, 'hand' | 'heelPads'>,
): boolean[] {
  const mirrored = isMirrored(feature.follows, position, drawn, order.hand);
  if (feature.role === 'PAD') return padMirrors(feature, piece, position, order, mirrored);
  return isPresent(feature.follows, position, order.hand) ? [mirrored] : [];
}

/**
 * How often a drawn heel pad appears at a position, and each time whether mirrored. `driver`: what is
 * drawn for the driver or for nobody in particular. `both`: what is drawn for the passenger too; where
 * nothing is, the driver's pad goes to both sides. `none`: never.
 */
function padMirrors(
  pad: Feature,
  piece: Piece,
  position: PiecePosition,
  { heelPads, hand }: Pick<Order, 'heelPads' | 'hand'>,
  mirrored: boolean,
): boolean[] {
  if (heelPads === 'none') return [];
  if (heelPads === 'driver' && pad.follows === 'PASSENGER') return [];
  const drawnForPassenger = piece.features.some(
    ({ role, follows }) => role === 'PAD' && follows === 'PASSENGER',
  );
  const goesToBoth = heelPads === 'both' && pad.follows === 'DRIVER' && !drawnForPassenger;
  if (goesToBoth && piece.sheet.side === 'centre') return [mirrored, !mirrored];
  if (goesToBoth && piece.sheet.side === 'pair') return [mirrored];
  return isPresent(pad.follows, position, hand) ? [mirrored] : [];
}
