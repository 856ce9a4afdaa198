import type { Curve } from '../../geometry/curves/curve.ts';
import type { Entity, InsertCopy } from '../drawing.ts';

/**
 * Curves, one after the other, that are neither lines nor circular arcs. They are as exact as in the
 * file, in mm.
 */
export interface CurvesEntity {
  readonly kind: 'curves';
  readonly layer: string;
  readonly line: number;
  readonly placement?: InsertCopy;
  /** The type that it has in the file, for findings. */
  readonly what: string;
  readonly curves: readonly Curve[];
}

/** What is read from a file before curves are replaced by arcs. */
export type DrawnEntity = Entity | CurvesEntity;
