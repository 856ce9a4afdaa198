import { headingDeg, turnDeg } from '../../geometry/paths/angle.ts';
import { signedArea } from '../../geometry/paths/area.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { tangentAt } from '../../geometry/paths/segment.ts';
import type { CutKind } from '../cuts.ts';
import type { Cutter } from '../cutter.ts';

/** A corner of a closed contour that is too sharp to turn the knife in the material. */
export interface SharpCorner {
  /** Length along the contour, mm from its start. */
  readonly along: number;
  /** Whether the knife would cut into what is kept of the part if it went straight on. */
  readonly inside: boolean;
}

/**
 * The largest turn, in degrees, that is made in the material. For a larger one the knife is lifted, or
 * the tip of a trailing knife is raised.
 */
export function sharpestTurn({ knife }: Pick<Cutter, 'knife'>): number {
  return knife.kind === 'tangential' ? knife.liftAboveDeg : knife.swivelAboveDeg;
}

/** A segment shorter than this (mm) has no reliable direction: rounding of its ends decides it. */
const sliver = 0.01;

/**
 * The corners of a closed contour that turn by more than `sharpestDeg` degrees; slivers are skipped. What
 * is kept lies inside an outline, and outside every other contour.
 */
export function sharpCorners(
  { path, segments, starts }: MeasuredPath,
  kind: CutKind,
  sharpestDeg: number,
): SharpCorner[] {
  const keptSide = signedArea(path) > 0 === (kind === 'outline') ? 1 : -1;
  const sides = segments
    .map((segment, i) => ({ segment, along: starts[i]!, length: starts[i + 1]! - starts[i]! }))
    .filter(({ length }) => length >= sliver);
  return sides.flatMap(({ segment, along }, i) => {
    const before = sides.at(i - 1)!.segment;
    const turn = turnDeg(headingDeg(tangentAt(before, 1)), headingDeg(tangentAt(segment, 0)));
    if (Math.abs(turn) <= sharpestDeg) return [];
    // If what is kept lies on the left, it lies ahead of the knife at a turn to the right.
    return [{ along, inside: turn * keptSide < 0 }];
  });
}
