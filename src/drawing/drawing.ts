import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import type { Finding } from '../base/findings.ts';

export type Units = 'mm' | 'cm' | 'm' | 'in';

/** Which insert in model space an entity comes from: `copy` counts the places of an array from 0. */
export interface InsertCopy {
  readonly block: string;
  readonly line: number;
  readonly copy: number;
  /** From the block's own frame, its base point at the origin, to the drawing's. */
  readonly transform: Transform;
}

interface Common {
  readonly layer: string;
  /** Where the entity begins in the file, counted from 1; 0 where there is no file. */
  readonly line: number;
  /** Missing where it is drawn there itself, and within a block. */
  readonly placement?: InsertCopy;
}

export type PathEntity = Common & { readonly kind: 'path'; readonly path: Path };

export type PointEntity = Common & {
  readonly kind: 'point';
  readonly at: Point;
  /** What a POINT says beside its place, where it does: pattern drawings put a notch's depth there. */
  readonly mark?: PointMark;
};

export type TextEntity = Common & {
  readonly kind: 'text';
  readonly at: Point;
  readonly text: string;
  /** mm */
  readonly height: number;
  /** Degrees counter-clockwise; text is never mirrored. */
  readonly deg: number;
};

export type Entity = PathEntity | PointEntity | TextEntity;

/** Groups 30 and 39 in mm, and 50 in degrees counter-clockwise, null where it is not given. */
export interface PointMark {
  readonly height: number;
  readonly thickness: number;
  readonly deg: number | null;
}

export interface Block {
  readonly name: string;
  /** In the block's own frame, its base point at the origin; inserts inside it resolved. */
  readonly entities: readonly Entity[];
}

/** What a DXF says, in mm: every insert in model space resolved, object frames turned to the world's. */
export interface Drawing {
  readonly file: string;
  readonly units: Units;
  readonly unitsFrom: 'square' | 'header' | 'text' | 'set' | 'option' | 'assumed';
  /** Blocks that a person made, in the order of the file; not the ones a program keeps for itself. */
  readonly blocks: readonly Block[];
  readonly entities: readonly Entity[];
  /** Names of the blocks that nothing in model space shows. */
  readonly unplaced: readonly string[];
  /** The lines of the file where its check squares begin; empty: it has none. */
  readonly squareLines: readonly number[];
  readonly findings: readonly Finding[];
}
