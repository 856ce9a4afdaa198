import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import type { Finding } from '../base/findings.ts';

export type Units = 'mm' | 'cm' | 'm' | 'in';

/**
 * The insert in model space that an entity comes from. An insert can place its block many times, as an
 * array: `copy` counts these places from 0.
 */
export interface InsertCopy {
  readonly block: string;
  readonly line: number;
  readonly copy: number;
  /**
   * Takes points from the frame of the block, with its base point at the origin, to the frame of the
   * drawing.
   */
  readonly transform: Transform;
}

interface Common {
  readonly layer: string;
  /** The line of the file where the entity begins, counted from 1. 0: it comes from no file. */
  readonly line: number;
  /** Missing if the entity is drawn in model space itself, or is part of a block. */
  readonly placement?: InsertCopy;
}

export type PathEntity = Common & { readonly kind: 'path'; readonly path: Path };

export type PointEntity = Common & {
  readonly kind: 'point';
  readonly at: Point;
  /**
   * What a POINT says besides its place, if it does. Some pattern drawings put the depth of a notch
   * there.
   */
  readonly mark?: PointMark;
};

export type TextEntity = Common & {
  readonly kind: 'text';
  readonly at: Point;
  readonly text: string;
  /** Height of the letters, mm. */
  readonly height: number;
  /** Direction of the line of text, degrees counter-clockwise from +x. Text is never mirrored. */
  readonly deg: number;
};

export type Entity = PathEntity | PointEntity | TextEntity;

/**
 * The groups of a POINT besides its place: `height` is group 30 and `thickness` group 39, in mm; `deg` is
 * group 50, degrees counter-clockwise, null if it is not given.
 */
export interface PointMark {
  readonly height: number;
  readonly thickness: number;
  readonly deg: number | null;
}

export interface Block {
  readonly name: string;
  /** In the frame of the block, with its base point at the origin. Inserts inside it are resolved. */
  readonly entities: readonly Entity[];
}

/**
 * What a DXF says, in mm. Every insert in model space is replaced by what it places, and every entity
 * stands in the frame of the drawing, whatever frame the file stores it in.
 */
export interface Drawing {
  readonly file: string;
  readonly units: Units;
  readonly unitsFrom: 'square' | 'header' | 'text' | 'set' | 'option' | 'assumed';
  /**
   * The blocks that a person made, in the order of the file. Blocks that drawing programs make for
   * themselves are left out.
   */
  readonly blocks: readonly Block[];
  readonly entities: readonly Entity[];
  /** The names of the blocks that no insert in model space shows. */
  readonly unplaced: readonly string[];
  /**
   * The lines of the file at which its check square begins: several if it is drawn as single lines, none
   * if there is no square.
   */
  readonly squareLines: readonly number[];
  readonly findings: readonly Finding[];
}
