import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';

/** What kind of cut it is. A hole of kind `punch` is made at one blow. */
export type CutKind = 'notch' | 'inner' | 'punch' | 'outline';

/** One path that the knife cuts, in the lay's frame. */
export interface Cut {
  readonly label: string;
  readonly kind: CutKind;
  /** Open for a notch; otherwise closed, and its first vertex is where the knife begins. */
  readonly path: Path;
  /**
   * If the contour is cut in several bites: the stretch that is cut in this one, mm along the path. `to`
   * may exceed the length of the path.
   */
  readonly stretch?: { readonly from: number; readonly to: number };
}

/** A straight cut in waste, in the lay's frame, that turns a trailing knife into a known direction. */
export interface LeadIn {
  readonly from: Point;
  readonly to: Point;
}

/** What is cut between two feeds, in cutting order. */
export interface Bite {
  /** Where the bed begins, mm from the roll's start. */
  readonly start: number;
  /** Is cut first. Left out: there is none. */
  readonly leadIn?: LeadIn;
  readonly cuts: readonly Cut[];
  /** The mark of the bite before. The operator looks for it before anything is cut. */
  readonly check?: Point;
  /** The middle of a cross that is cut last, in waste. The operator looks for it after the feed. */
  readonly mark?: Point;
}
