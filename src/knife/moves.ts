import type { Point } from '../geometry/paths/point.ts';

/**
 * One step of the machine. Points are places of the swivel axis (for a tangential knife that is the tip),
 * in mm, in the frame of the bed: x along the roll from the start of the bite, y across the full width of
 * the roll.
 *
 * `deg` is the heading of a tangential knife at the end of the move. It is unwrapped: it goes on past 360
 * degrees. It is null for a trailing knife, which turns by itself.
 */
export type Move =
  /** Goes straight to a place, with the knife up. */
  | { readonly kind: 'travel'; readonly to: Point }
  /** Turns the knife on the spot; it may be up or down. */
  | { readonly kind: 'turn'; readonly deg: number }
  /**
   * Moves the tip to a height Z in the material: from above, or, when a trailing knife is to swivel, from
   * below.
   */
  | { readonly kind: 'lower'; readonly z: number }
  /** Lifts the tip to travel height. */
  | { readonly kind: 'lift' }
  | { readonly kind: 'line'; readonly to: Point; readonly deg: number | null }
  | {
      readonly kind: 'arc';
      readonly to: Point;
      readonly centre: Point;
      /** Counter-clockwise positive, never 0, less than a full turn. */
      readonly sweepDeg: number;
      readonly deg: number | null;
    }
  /** Punches at this place; the knife is up. */
  | { readonly kind: 'punch' }
  /**
   * Goes, with the knife up, over the mark that was cut before a feed, so that the operator sees whether
   * the roll lies right.
   */
  | { readonly kind: 'check'; readonly to: Point }
  /** Pulls the roll on by this length, mm. The knife is up and stays where it is. */
  | { readonly kind: 'feed'; readonly length: number }
  /** Says what comes next, for people who read the program. */
  | { readonly kind: 'note'; readonly text: string };

/** The whole way of the knife over a lay, or over one bite. */
export interface KnifePath {
  readonly moves: readonly Move[];
  /** Length that the tip cuts, mm. What is cut twice to close a contour counts twice. */
  readonly cutLength: number;
  /** Length that the axis goes with the knife up, mm. */
  readonly travelLength: number;
  /** Estimated; see `estimate`. */
  readonly minutes: number;
  /** When each cut is begun, by its note: minutes from the start. */
  readonly begun: readonly { readonly text: string; readonly minutes: number }[];
  /** How many bites have something to cut. */
  readonly bites: number;
}
