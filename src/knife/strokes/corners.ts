import { headingDeg, turnDeg } from '../../geometry/paths/angle.ts';
import { signedArea } from '../../geometry/paths/area.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { tangentAt } from '../../geometry/paths/segment.ts';
import type { CutKind } from '../cuts.ts';
import type { Cutter } from '../cutter.ts';

/** A corner of a closed contour that a knife does not turn in the material. */
export interface SharpCorner {
  /** mm along the contour. */
  readonly along: number;
  /** Whether the knife, gone straight on, would cut into what is kept of the part. */
  readonly inside: boolean;
}

/** Degrees above which a turn is made with the knife up, or the tip of a trailing one raised. */
export function sharpestTurn({ knife }: Pick<Cutter, 'knife'>): number {
  return knife.kind === 'tangential' ? knife.liftAboveDeg : knife.swivelAboveDeg;
}

/** mm. A shorter segment has no direction that is more than the noise of its ends. */
const sliver = 0.01;

/**
 * The corners of a closed contour that turn by more than `sharpestDeg`, slivers passed over. What is
 * kept lies within an outline and around every other contour.
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
    // With what is kept on the left, a turn to the right leaves it ahead.
    return [{ along, inside: turn * keptSide < 0 }];
  });
}
