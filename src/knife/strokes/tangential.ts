import { headingDeg, turnDeg } from '../../geometry/paths/angle.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { segmentsOf } from '../../geometry/paths/path.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { arcOf, sweepOf, tangentAt } from '../../geometry/paths/segment.ts';
import type { TangentialKnife } from '../cutter.ts';
import type { Move } from '../moves.ts';
import type { CutMoves, KnifeState } from './strokes.ts';
import { negligibleTurnDeg, travelTo } from './strokes.ts';

/**
 * Cuts along an open path with a tangential knife, which an axis turns into its direction of travel. The
 * heading is atan2 of the tangent, unwrapped by the shortest turn from the heading before. It is set
 * before the knife is lowered. A corner sharper than liftAboveDeg is turned with the knife up, a smaller
 * one in the material. Along an arc the heading turns with the arc.
 */
export function cutTangential(
  tip: Path,
  from: KnifeState,
  knife: TangentialKnife,
  cutZ: number,
): CutMoves {
  const segments = segmentsOf(tip);
  const moves = travelTo(segments[0]!.from, from.at);
  let deg = from.deg;
  let up = true;
  for (const segment of segments) {
    const turn = turnDeg(deg, headingDeg(tangentAt(segment, 0)));
    if (!up && Math.abs(turn) > knife.liftAboveDeg) {
      moves.push({ kind: 'lift' });
      up = true;
    }
    deg += turn;
    if (Math.abs(turn) > negligibleTurnDeg) moves.push({ kind: 'turn', deg });
    if (up) moves.push({ kind: 'lower', z: cutZ });
    up = false;
    deg += degrees(sweepOf(segment.bulge));
    moves.push(strokeAlong(segment, deg));
  }
  moves.push({ kind: 'lift' });
  return { moves, after: { at: segments.at(-1)!.to, deg } };
}

function strokeAlong(segment: Segment, deg: number): Move {
  if (segment.bulge === 0) return { kind: 'line', to: segment.to, deg };
  const { centre, sweep } = arcOf(segment);
  return { kind: 'arc', to: segment.to, centre, sweepDeg: degrees(sweep), deg };
}

function degrees(radians: number): number {
  return (radians * 180) / Math.PI;
}
