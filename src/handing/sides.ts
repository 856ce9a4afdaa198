import type { PieceSheet } from '../pattern/set-file.ts';
import type { Follows } from '../pattern/layers.ts';
import { followsPerson } from '../pattern/layers.ts';
import type { Hand, Side } from '../pattern/words.ts';
import { driverSide, otherSide } from '../pattern/words.ts';

/** One thing that a piece becomes for a hand of drive. */
export interface PiecePosition {
  /** null for a centre piece. */
  readonly side: Side | null;
  /** Whether the outline comes out as the mirror image of what is drawn. */
  readonly mirrored: boolean;
}

/** The positions that a piece is cut for: the outline rows of the handedness table. None where it is for the other hand only. */
export function positionsOf(
  sheet: Pick<PieceSheet, 'side' | 'drawnSide' | 'outline' | 'only'>,
  drawn: Hand,
  hand: Hand,
): PiecePosition[] {
  if (sheet.only !== undefined && sheet.only !== hand) return [];
  const other = hand !== drawn;
  switch (sheet.side) {
    case 'centre':
      return [{ side: null, mirrored: other && sheet.outline === 'driver' }];
    case 'pair':
      return (['left', 'right'] as const).map((side) => ({
        side,
        mirrored: side !== sheet.drawnSide,
      }));
    case 'left':
    case 'right':
      return [{ side: sheet.side, mirrored: false }];
    case 'driver':
      return [{ side: driverSide(hand), mirrored: other }];
    case 'passenger':
      return [{ side: otherSide(driverSide(hand)), mirrored: other }];
  }
}

/** The side of the vehicle that a suffix names, for a hand of drive. */
function sideFollowed(follows: Follows, hand: Hand): Side {
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

/** Whether a feature is there at a position: always on a centre piece, else only on the side it follows. */
export function isPresent(follows: Follows | null, position: PiecePosition, hand: Hand): boolean {
  if (follows === null || position.side === null) return true;
  return position.side === sideFollowed(follows, hand);
}

/**
 * Whether a feature comes out mirrored: with its outline, except on a centre piece, where what
 * follows a person changes side with that person and what follows a side of the vehicle stays.
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
