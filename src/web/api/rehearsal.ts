import type { Placement } from '../../lay/lay.ts';
import type { PicturedPart, PicturedRoll } from './pictured.ts';

/**
 * A rehearsal: the head is JSON of this shape, behind it in the same body `moves` as little-endian
 * numbers, see `rehearsalBody`.
 */
export interface Rehearsal {
  readonly file: string;
  readonly material: string;
  readonly roll: string | null;
  /** Moves, in the order of the program. */
  readonly count: number;
  /** Seconds, all told. */
  readonly seconds: number;
  /** mm with the knife down and up. */
  readonly cutLength: number;
  readonly travelLength: number;
  readonly bites: readonly {
    /** mm the roll has been fed when it begins. */
    readonly fed: number;
    readonly firstMove: number;
    readonly seconds: number;
  }[];
  /** The first move over each part. */
  readonly parts: readonly {
    readonly label: string;
    readonly move: number;
    readonly seconds: number;
  }[];
  /** Roll and parts as they lie on the bed, which with the face down is a mirror image of the lay. */
  readonly bed: {
    readonly roll: PicturedRoll;
    readonly parts: readonly PicturedPart[];
    readonly placements: readonly Placement[];
  };
  /** What the program says to the operator, and when. */
  readonly messages: readonly {
    readonly move: number;
    readonly line: number;
    readonly text: string;
  }[];
}

/** Arrays of a rehearsal, one number a move. Positions are of the tip, mm in the frame of the lay. */
export interface RehearsalMoves {
  /** x and y where the move ends; it begins where the one before it ends. */
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** Seconds from the start at its end. */
  readonly at: Float32Array;
  /** 1: knife down and cutting, 0: up, 2: held shallow while it swivels. */
  readonly down: Uint8Array;
  /** Line of the program. */
  readonly line: Uint32Array;
}
