import type { Path } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { Finding } from '../findings.ts';

export type Units = 'mm' | 'cm' | 'm' | 'in';

/** `line` is where the entity begins in the file, counted from 1; 0 where there is no file. */
export type Entity =
  | { readonly kind: 'path'; readonly layer: string; readonly line: number; readonly path: Path }
  | { readonly kind: 'point'; readonly layer: string; readonly line: number; readonly at: Point }
  | {
      readonly kind: 'text';
      readonly layer: string;
      readonly line: number;
      readonly at: Point;
      readonly text: string;
      /** mm */
      readonly height: number;
      /** Degrees counter-clockwise; text is never mirrored. */
      readonly deg: number;
    };

export interface Block {
  readonly name: string;
  /** In the block's own frame, its base point at the origin; inserts inside it resolved. */
  readonly entities: readonly Entity[];
}

/** What a DXF says, in mm: every insert in model space resolved, object frames turned to the world's. */
export interface Drawing {
  readonly file: string;
  readonly units: Units;
  readonly unitsFrom: 'header' | 'set' | 'option' | 'assumed';
  /** Blocks that a person made, in the order of the file; not the ones a program keeps for itself. */
  readonly blocks: readonly Block[];
  readonly entities: readonly Entity[];
  readonly findings: readonly Finding[];
}
