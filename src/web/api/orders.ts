import type { Finding } from '../../base/findings.ts';
import type { Hand, Side } from '../../pattern/words.ts';

/**
 * One shape of a plan. Coordinates are mm in the vehicle, +x to its right and +y forward; `d` and
 * `lines` are SVG path data.
 */
export interface PlanShape {
  readonly name: string;
  /** The outline and what is cut out of it. */
  readonly d: string;
  /** Fold, stitch and mark lines. */
  readonly lines: string;
  readonly kind: 'piece' | 'pad' | 'mark';
  readonly moved: boolean;
  /** Whether it is there for one hand of drive only. */
  readonly alone: boolean;
  /** Whether the order leaves it out. */
  readonly left: boolean;
}

export interface Plan {
  readonly drawn: Hand;
  readonly hand: Hand;
  /** The set as drawn and as ordered, largest shapes first. */
  readonly before: readonly PlanShape[];
  readonly after: readonly PlanShape[];
  /** The box around both: minX, minY, maxX, maxY. */
  readonly box: readonly [number, number, number, number];
  /** What moved and why, a line each. */
  readonly changes: readonly {
    readonly what: string;
    /** The side and the place of its middle, in words; so is `to`. */
    readonly from: string;
    readonly to: string;
    readonly why: string;
  }[];
  readonly parts: readonly PlanPart[];
  readonly findings: readonly Finding[];
}

/** A part of one set of the order that the plan shows. */
interface PlanPart {
  readonly name: string;
  readonly kind: string;
  readonly side: Side | null;
  /** Its material, with the colour if it has one. */
  readonly cloth: string;
  /** The name that its piece has in the plan. */
  readonly piece: string;
  /** Where its middle is in the plan. */
  readonly at: readonly [number, number];
}
