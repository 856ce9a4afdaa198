import type { Part } from '../handing/part.ts';
import { faceDown } from '../lay/face-down.ts';
import type { Lay } from '../lay/lay.ts';
import type { Bite } from './cuts.ts';
import type { Cutter } from './cutter.ts';
import { knifePath } from './knife-path.ts';
import type { KnifePath } from './moves.ts';
import { cuttingOrder } from './order/order.ts';
import { withWasteCuts } from './waste.ts';

/** How a lay is cut: what lies on the bed, in which order it is cut, and the way of the knife. */
export interface CuttingPlan {
  /** Lay and parts as they lie on the bed: with the face down each is a mirror image. */
  readonly lay: Lay;
  readonly parts: readonly Part[];
  readonly bites: readonly Bite[];
  /** Over all bites. */
  readonly path: KnifePath;
  /** Over each bite alone, the roll fed so far by hand; none where there is one bite. */
  readonly single: readonly KnifePath[];
}

/** Plans the cut of a lay of material of `thickness` mm. Throws a Refusal where something does not lie on the bed. */
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
