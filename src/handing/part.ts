import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { EdgeKind, Hand, Side, Turns } from '../pattern/words.ts';

/** What a part is to its piece: the carpet itself, or something made to go with it. */
export const partKinds = ['piece', 'pad', 'board', 'underlay'] as const;
export type PartKind = (typeof partKinds)[number];

/** A closed contour inside a part, counter-clockwise, cut through. */
export interface InnerContour {
  readonly role: 'CUTOUT' | 'HOLE';
  readonly path: Path;
}

export const markRoles = ['FOLD', 'STITCH', 'MARK', 'PAD', 'DRILL'] as const;

/** A line or a point on the face that is shown and never cut. A point is a path of one vertex. */
export interface Mark {
  readonly role: (typeof markRoles)[number];
  readonly path: Path;
}

/** A slit from the cut edge inwards, one stroke. */
export interface Notch {
  readonly from: Point;
  readonly to: Point;
}

/** A stretch of the net outline as an open path along it, and what happens there. */
export interface Edge {
  readonly kind: EdgeKind;
  /** Its name in the pattern; null: it has none. */
  readonly name: string | null;
  readonly path: Path;
  /** Whether the cut can be seen in the vehicle: where an edge is bound or raw; not where it is tucked, sewn, turned or covered. */
  readonly onShow: boolean;
  /** What covers a raw edge or what a tuck edge goes under, in the set's words; left out where it says none. */
  readonly hiddenBy?: string;
}

/**
 * One physical thing to cut. All geometry in mm in the part's own frame: the frame of its piece in
 * the vehicle (+x to the vehicle's right, +y forward, pile up towards the reader).
 */
export interface Part {
  /** Unique in a run: `<name>.<set>.<order>`. */
  readonly label: string;
  /** `<piece>[-pad|-board|-underlay][-left|-right][-copy]`: unique in a set. */
  readonly name: string;
  readonly piece: string;
  readonly kind: PartKind;
  readonly side: Side | null;
  readonly hand: Hand;
  readonly order: string;
  /** Counts from 1 in its order. */
  readonly set: number;
  readonly material: string;
  /** The outline as fitted: closed, counter-clockwise. */
  readonly net: Path;
  /** The contour to cut, net plus allowances: closed, counter-clockwise. */
  readonly cut: Path;
  readonly inner: readonly InnerContour[];
  readonly notches: readonly Notch[];
  readonly marks: readonly Mark[];
  readonly edges: readonly Edge[];
  /** Where the pile leans, degrees counter-clockwise from +x; null where the material has none. */
  readonly pileDeg: number | null;
  /** How it may be turned on the roll; left out: as its material says. */
  readonly turns?: Turns;
  /** Degrees by which it may be turned aside on the roll to save cloth; left out: 0. */
  readonly tilt?: number;
}
