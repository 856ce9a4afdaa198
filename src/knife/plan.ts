import type { Part } from '../handing/part.ts';
import { faceDown } from '../lay/face-down.ts';
import type { Lay } from '../lay/lay.ts';
import type { Bite } from './cuts.ts';
import type { Cutter } from './cutter.ts';
import { knifePath } from './knife-path.ts';
import type { KnifePath } from './moves.ts';
import { cuttingOrder } from './order/order.ts';
import { withWasteCuts } from './waste.ts';

/** How a lay is cut: what lies on the bed, the order in which it is cut, and the way of the knife. */
export interface CuttingPlan {
  /** The lay as it lies on the bed. If it lies face down, lay and parts are mirror images. */
  readonly lay: Lay;
  readonly parts: readonly Part[];
  readonly bites: readonly Bite[];
  /** The way over all bites. */
  readonly path: KnifePath;
  /**
   * The way over each bite by itself, when the roll has been fed that far by hand. Empty if there is only
   * one bite.
   */
  readonly single: readonly KnifePath[];
}

/**
 * Plans how a lay is cut. `thickness`: of the material, mm. Throws a Refusal if something does not lie on
 * the bed.
 */
export function planCutting(
  lay: Lay,
  parts: readonly Part[],
  cutter: Cutter,
  thickness: number,
): CuttingPlan {
  const onBed = cutter.face === 'down' ? faceDown(lay, parts) : { lay, parts };
  const order = cuttingOrder(onBed.lay, onBed.parts, cutter);
  const bites = withWasteCuts(order, onBed.lay, onBed.parts, cutter, thickness);
  return {
    ...onBed,
    bites,
    path: knifePath(bites, cutter, thickness),
    single:
      bites.length === 1
        ? []
        : bites.map((bite) => knifePath([bite], cutter, thickness, bite.start)),
  };
}
