import type { Cutter } from '../cutter.ts';

/** How far an edge of the blade cuts beyond the tip, mm: at the upper side of the material, as it lies, and at its underside. */
export interface EdgeReach {
  readonly upper: number;
  readonly under: number;
}

/** Ahead of the tip and behind it. */
export interface BladeReach {
  readonly front: EdgeReach;
  readonly rear: EdgeReach;
}

/**
 * Derived: with the tip p below the bed, an edge that leans by a from upright cuts p tan a beyond the
 * tip at the underside of material of `thickness` T mm, and (T + p) tan a at its upper side.
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
