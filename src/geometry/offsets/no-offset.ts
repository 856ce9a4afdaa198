import type { Point } from '../paths/point.ts';

/** Thrown if a path cannot be moved by the amounts that were asked for. */
export class NoOffset extends RangeError {
  /** The corner where it fails. null: nothing is left of the whole path. */
  readonly at: Point | null;

  constructor(message: string, at: Point | null) {
    super(message);
    this.name = 'NoOffset';
    this.at = at;
  }
}
