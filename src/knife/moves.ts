import type { Point } from '../geometry/point.ts';

/**
 * What the machine is told, in order. Points are where the swivel axis goes (for a tangential knife
 * that is the tip), mm in the bed's frame of the bite under the knife: x along the roll from the
 * bite's start, y across the full roll width. `deg` is the knife's heading, unwrapped: it goes on past 360.
 */
export type Move =
  | { readonly kind: 'travel'; readonly to: Point }
  | { readonly kind: 'turn'; readonly deg: number }
  | { readonly kind: 'lower'; readonly z: number }
  | { readonly kind: 'lift' }
  | { readonly kind: 'line'; readonly to: Point; readonly deg: number | null }
  | {
      readonly kind: 'arc';
      readonly to: Point;
      readonly centre: Point;
      readonly counterClockwise: boolean;
      readonly deg: number | null;
    }
  | { readonly kind: 'feed'; readonly length: number }
  | { readonly kind: 'note'; readonly text: string };

/** One run of the knife over a lay. */
export interface KnifePath {
  readonly moves: readonly Move[];
  /** mm with the knife in the material. */
  readonly cutLength: number;
  /** mm with the knife up. */
  readonly travelLength: number;
  readonly minutes: number;
  readonly bites: number;
}
