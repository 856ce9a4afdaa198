import type { Curve } from '../../geometry/curves/curve.ts';
import type { Entity, InsertCopy } from '../drawing.ts';

/** Curves end to end that are neither lines nor arcs of circles, as exact as the file has them; mm. */
export interface CurvesEntity {
  readonly kind: 'curves';
  readonly layer: string;
  readonly line: number;
  readonly placement?: InsertCopy;
  /** What it is in the file, for findings. */
  readonly what: string;
  readonly curves: readonly Curve[];
}

/** What is read from a file, before curves become arcs. */
export type DrawnEntity = Entity | CurvesEntity;
