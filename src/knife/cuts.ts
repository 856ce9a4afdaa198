import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';

/** What is done to a contour; a punched hole is cut at one blow. */
export type CutKind = 'notch' | 'inner' | 'punch' | 'outline';

/** One path that the knife cuts, in the lay's frame. */
export interface Cut {
  readonly label: string;
  readonly kind: CutKind;
  /** Open for a notch, else closed and begun where the knife starts. */
  readonly path: Path;
  /** The stretch that is cut in this bite, mm along the path, if the contour is cut in several bites. */
  readonly stretch?: { readonly from: number; readonly to: number };
}

/** A straight cut in waste, in the lay's frame. */
export interface LeadIn {
  readonly from: Point;
  readonly to: Point;
}

/** What is cut between two feeds, in cutting order. */
export interface Bite {
  /** Where the bed begins, mm from the roll's start. */
  readonly start: number;
  /** Cut first, to turn a trailing knife into a known direction. */
  readonly leadIn?: LeadIn;
  readonly cuts: readonly Cut[];
  /** The mark of the bite before, looked for before anything is cut. */
  readonly check?: Point;
  /** Middle of a cross in waste that is cut last, and looked for after the feed. */
  readonly mark?: Point;
}
