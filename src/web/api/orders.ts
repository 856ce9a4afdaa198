import type { Finding } from '../../base/findings.ts';
import type { Hand, Side } from '../../pattern/words.ts';

/** One shape of a plan, mm in the vehicle: +x to its right, +y forward; `d` is SVG path data. */
export interface PlanShape {
  readonly name: string;
  /** The outline and what is cut out of it. */
  readonly d: string;
  /** Fold, stitch and mark lines. */
  readonly lines: string;
  readonly kind: 'piece' | 'pad' | 'mark';
  readonly moved: boolean;
  /** There for one hand only. */
  readonly alone: boolean;
}

export interface Plan {
  readonly drawn: Hand;
  readonly hand: Hand;
  /** The set as drawn and as ordered, largest shapes first. */
  readonly before: readonly PlanShape[];
  readonly after: readonly PlanShape[];
  /** minX, minY, maxX, maxY of both. */
  readonly box: readonly [number, number, number, number];
  /** What moved and why, a line each. */
  readonly changes: readonly {
    readonly what: string;
    /** Side and middle, in words. */
    readonly from: string;
    readonly to: string;
    readonly why: string;
  }[];
  readonly parts: readonly PlanPart[];
  readonly findings: readonly Finding[];
}

/** A part of one set of the order. */
interface PlanPart {
  readonly name: string;
  readonly kind: string;
  readonly side: Side | null;
  readonly material: string;
  /** Name of its piece as it stands in the plan. */
  readonly piece: string;
  /** Where its middle is in the plan. */
  readonly at: readonly [number, number];
}
