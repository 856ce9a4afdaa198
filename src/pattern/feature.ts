import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Follows, Role } from './layers.ts';

/** One thing drawn on a piece. A point is a path of one vertex. */
export interface Feature {
  readonly role: Role;
  readonly follows: Follows | null;
  /** The name that a text beside an edge's line gives it; null for all other features. */
  readonly name: string | null;
  readonly path: Path;
  /** Line in the drawing where it begins. */
  readonly line: number;
}

/** One straight line, tail to head. */
export interface DrawnLine {
  readonly from: Point;
  readonly to: Point;
}
