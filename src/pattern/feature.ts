import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { LayerMeaning } from './layers.ts';

/** One thing drawn on a piece. A point is a path of one vertex. */
export interface Feature extends LayerMeaning {
  /** The name of an edge or of a mark, from a text beside it. null: it has none, or the feature is neither. */
  readonly name: string | null;
  readonly path: Path;
  /** The line of the drawing file where it begins. */
  readonly line: number;
  /** How a notch is drawn whose path is only the line in from the edge that it stands for. */
  readonly drawnAs?: NotchShape;
}

/** A notch as a V, as a tick across the outline, or as a T. */
export type NotchShape = 'v' | 'tick' | 't';

/** A straight line with a direction: `from` is the tail of the arrow, `to` its head. */
export interface DrawnLine {
  readonly from: Point;
  readonly to: Point;
}

/**
 * What is cut through, and pads: in the wrong place they cost the piece. Folds, marks and stitching cut
 * nothing; notches are uneven on purpose, and those of seams are held against the other edge.
 */
export const cuttingRoles: ReadonlySet<Feature['role']> = new Set(['CUTOUT', 'HOLE', 'PAD']);
