import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { EdgeKind, Hand, Side, Turns } from '../pattern/words.ts';

/** What a part is: the carpet of its piece, or something that goes with it. */
export const partKinds = ['piece', 'pad', 'board', 'underlay'] as const;
export type PartKind = (typeof partKinds)[number];

/** A closed contour inside a part that is cut through; counter-clockwise. */
export interface InnerContour {
  readonly role: 'CUTOUT' | 'HOLE';
  readonly path: Path;
}

export const markRoles = ['FOLD', 'STITCH', 'MARK', 'PAD', 'DRILL'] as const;

/**
 * A line or a point that is shown on the face of the part and never cut. A point is a path of one vertex.
 */
export interface Mark {
  readonly role: (typeof markRoles)[number];
  readonly path: Path;
  /** The name by which the set file says what is done there. Left out: it says nothing. */
  readonly name?: string;
}

/** A slit from the cut edge inwards. It is one stroke of the knife. */
export interface Notch {
  readonly from: Point;
  readonly to: Point;
  /**
   * The place on the net outline that it marks. In a corner it cannot be told from where the slit begins. Left out:
   * the part is read from a record.
   */
  readonly at?: Point;
}

/** A stretch of the net outline, as an open path in its direction, and what happens to it. */
export interface Edge {
  readonly kind: EdgeKind;
  /** Its name in the pattern; null: it has none. */
  readonly name: string | null;
  readonly path: Path;
  /**
   * Whether the cut edge can be seen in the vehicle. A bound edge can; a raw one can unless it is
   * covered; a sewn, tucked or turned one cannot.
   */
  readonly onShow: boolean;
  /**
   * What covers a raw edge, or what a tuck edge goes under, in the words of the set file. Left out: it
   * says nothing.
   */
  readonly hiddenBy?: string;
}

/**
 * One physical thing to cut. Its geometry is in mm, in the frame of the vehicle: +x to the vehicle's
 * right, +y forward, pile up towards the reader.
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
  /** The number of the set in its order, from 1. */
  readonly set: number;
  readonly material: string;
  /** The colour of its material. Left out: the material is kept in no colours, or nobody has chosen. */
  readonly colour?: string;
  /** The outline as fitted: closed, counter-clockwise. */
  readonly net: Path;
  /** The contour to cut, net plus allowances: closed, counter-clockwise. */
  readonly cut: Path;
  readonly inner: readonly InnerContour[];
  readonly notches: readonly Notch[];
  readonly marks: readonly Mark[];
  readonly edges: readonly Edge[];
  /**
   * The direction in which the pile leans, degrees counter-clockwise from +x. null: the part has no pile
   * direction.
   */
  readonly pileDeg: number | null;
  /** How the part may be turned on the roll. Left out: as its material says. */
  readonly turns?: Turns;
  /** By how many degrees more the part may be turned on the roll to save material. Left out: 0. */
  readonly tilt?: number;
}
