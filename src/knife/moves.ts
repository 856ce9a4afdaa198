import type { Point } from '../geometry/paths/point.ts';

/**
 * What the machine is told, in order. Points are where the swivel axis goes (for a tangential knife
 * that is the tip), mm in the bed's frame of the bite under the knife: x along the roll from the
 * bite's start, y across the full roll width. `deg` is the heading of a tangential knife at the end
 * of the move, unwrapped: it goes on past 360. It is null for a trailing knife, which turns by itself.
 */
export type Move =
  /** Straight to a place, with the knife up. */
  | { readonly kind: 'travel'; readonly to: Point }
  /** On the spot, knife up or down. */
  | { readonly kind: 'turn'; readonly deg: number }
  /** Tip to a Z in the material, from above or, where a trailing knife is to swivel, from below. */
  | { readonly kind: 'lower'; readonly z: number }
  /** Tip to travel height. */
  | { readonly kind: 'lift' }
  | { readonly kind: 'line'; readonly to: Point; readonly deg: number | null }
  | {
      readonly kind: 'arc';
      readonly to: Point;
      readonly centre: Point;
      /** Counter-clockwise positive; never 0, less than a full turn. */
      readonly sweepDeg: number;
      readonly deg: number | null;
    }
  /** The punch works where it stands, knife up. */
  | { readonly kind: 'punch' }
  /** Over the mark that was cut before a feed, for the operator to see that the roll is right; knife up. */
  | { readonly kind: 'check'; readonly to: Point }
  /** The roll is pulled on by this length, mm; the knife is up and stays where it is. */
  | { readonly kind: 'feed'; readonly length: number }
  /** What comes next, for whoever reads the program. */
  | { readonly kind: 'note'; readonly text: string };

/** One run of the knife over a lay. */
export interface KnifePath {
  readonly moves: readonly Move[];
  /** mm that the tip cuts, what is cut again to close a contour included. */
  readonly cutLength: number;
  /** mm with the knife up. */
  readonly travelLength: number;
  /** Estimated; see estimateMinutes. */
  readonly minutes: number;
  /** When each cut is begun, by its note: minutes from the start. */
  readonly begun: readonly { readonly text: string; readonly minutes: number }[];
  /** How many bites have something to cut. */
  readonly bites: number;
}
