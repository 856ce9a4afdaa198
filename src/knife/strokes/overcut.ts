import type { Cutter } from '../cutter.ts';

/**
 * How far an edge of the blade cuts past the tip, mm: at the upper side of the material as it lies on the
 * bed, and at its underside.
 */
export interface EdgeReach {
  readonly upper: number;
  readonly under: number;
}

/** The reach of the front edge, ahead of the tip, and of the rear edge, behind it. */
export interface BladeReach {
  readonly front: EdgeReach;
  readonly rear: EdgeReach;
}

/**
 * How far a leaning blade cuts past its tip. Derived: the tip is at depth p below the bed, and the edge
 * leans by a from upright. In material of `thickness` T mm it cuts p tan a past the tip at the underside,
 * and (T + p) tan a at the upper side.
 */
export function bladeReach(
  { blade, heights }: Pick<Cutter, 'blade' | 'heights'>,
  thickness: number,
): BladeReach {
  const reach = (leanDeg: number): EdgeReach => {
    const tangent = Math.tan((leanDeg * Math.PI) / 180);
    return { upper: (thickness - heights.cut) * tangent, under: -heights.cut * tangent };
  };
  return { front: reach(blade.leanFrontDeg), rear: reach(blade.leanRearDeg) };
}
