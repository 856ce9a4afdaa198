import type { Placement } from '../../lay/lay.ts';
import type { PicturedPart, PicturedRoll } from './pictured.ts';

/**
 * A program that is read back to be played. It is sent as one body: JSON of this shape, and behind it
 * the moves as numbers (see `rehearsalBody`).
 */
export interface Rehearsal {
  readonly file: string;
  readonly material: string;
  readonly roll: string | null;
  /** How many moves the program has. */
  readonly count: number;
  /** Seconds that the whole program takes. */
  readonly seconds: number;
  /**
   * How far the knife goes while it is down, mm; `travelLength` is how far it goes while it is up.
   */
  readonly cutLength: number;
  readonly travelLength: number;
  readonly bites: readonly {
    /** How far the roll has been fed, mm, when the bite begins. */
    readonly fed: number;
    readonly firstMove: number;
    readonly seconds: number;
  }[];
  /** The first move of the knife over each part, and when it comes, in seconds. */
  readonly parts: readonly {
    readonly label: string;
    readonly move: number;
    readonly seconds: number;
  }[];
  /**
   * Roll and parts as they lie on the bed. Where the carpet lies face down, that is a mirror image of
   * the lay.
   */
  readonly bed: {
    readonly roll: PicturedRoll;
    readonly parts: readonly PicturedPart[];
    readonly placements: readonly Placement[];
  };
  /** What the program says to the operator, and before which move. */
  readonly messages: readonly {
    readonly move: number;
    readonly line: number;
    readonly text: string;
  }[];
}

/**
 * The moves of a rehearsal: each array has one number for a move. Positions are those of the knife's
 * tip, mm in the frame of the lay.
 */
export interface RehearsalMoves {
  /** Where the move ends; it begins where the move before it ends. */
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** Seconds from the start of the program to the end of the move. */
  readonly at: Float32Array;
  /** 1: the knife is down and cuts; 0: it is up; 2: it is held shallow while it swivels. */
  readonly down: Uint8Array;
  /** The line of the program that the move comes from. */
  readonly line: Uint32Array;
}
