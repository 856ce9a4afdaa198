import type { PieceEntry } from '../pattern/set-file.ts';
import type { Follows } from '../pattern/layers.ts';
import { followsPerson } from '../pattern/layers.ts';
import type { Hand, Side } from '../pattern/words.ts';
import { driverSide, otherSide } from '../pattern/words.ts';

/** A position in which a piece is cut for a hand: once for most pieces, twice for a pair. */
export interface PiecePosition {
  /** The side of the vehicle. null: a centre piece. */
  readonly side: Side | null;
  /** Whether the outline is the mirror image of the drawn one. */
  readonly mirrored: boolean;
}

/** The positions in which a piece is cut for a hand. Empty if the piece is only for the other hand. */
export function positionsOf(
  entry: Pick<PieceEntry, 'side' | 'drawnSide' | 'outline' | 'only'>,
  drawn: Hand,
  hand: Hand,
): PiecePosition[] {
  if (entry.only !== undefined && entry.only !== hand) return [];
  const other = hand !== drawn;
  switch (entry.side) {
    case 'centre':
      return [{ side: null, mirrored: other && entry.outline === 'driver' }];
    case 'pair':
      return (['left', 'right'] as const).map((side) => ({
        side,
        mirrored: side !== entry.drawnSide,
      }));
    case 'left':
    case 'right':
      return [{ side: entry.side, mirrored: false }];
    case 'driver':
      return [{ side: driverSide(hand), mirrored: other }];
    case 'passenger':
      return [{ side: otherSide(driverSide(hand)), mirrored: other }];
  }
}

/** The side of the vehicle that the suffix of a layer means for a hand. */
export function sideFollowed(follows: Follows, hand: Hand): Side {
  switch (follows) {
    case 'DRIVER':
      return driverSide(hand);
    case 'PASSENGER':
      return otherSide(driverSide(hand));
    case 'LEFT':
      return 'left';
    case 'RIGHT':
      return 'right';
  }
}

/**
 * Whether a feature exists at a position: always on a centre piece, on others only if the position is on
 * the side that the feature follows.
 */
export function isPresent(follows: Follows | null, position: PiecePosition, hand: Hand): boolean {
  if (follows === null || position.side === null) return true;
  return position.side === sideFollowed(follows, hand);
}

/**
 * Whether a feature is mirrored. It is if its outline is; but on a centre piece a feature that follows a
 * person changes side with that person, and a feature that follows a side of the vehicle stays on it.
 */
export function isMirrored(
  follows: Follows | null,
  position: PiecePosition,
  drawn: Hand,
  hand: Hand,
): boolean {
  if (follows === null || position.side !== null) return position.mirrored;
  return followsPerson({ follows }) && hand !== drawn;
}
