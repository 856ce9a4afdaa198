import { headingDeg, headingOf, turnDeg } from '../../geometry/paths/angle.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { segmentsOf } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { plus, times } from '../../geometry/paths/point.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { arcOf, tangentAt } from '../../geometry/paths/segment.ts';
import type { TrailingKnife } from '../cutter.ts';
import type { Move } from '../moves.ts';
import type { CutMoves, KnifeState } from './strokes.ts';
import { negligibleTurnDeg, travelTo } from './strokes.ts';

/**
 * Cuts along an open path with a trailing knife, whose tip follows the swivel axis at a distance d.
 *
 * The idea: if the tip is at T and moves along the unit tangent t, the axis is at T + d t. So along a
 * straight line the axis goes ahead on the same line. Along an arc of radius R it goes on a circle about
 * the same centre, of radius sqrt(R^2 + d^2), ahead by the angle atan(d / R). At a corner the tip stays
 * and the axis goes round it on a circle of radius d; if the turn is sharper than swivelAboveDeg, the tip
 * is raised to swivelDepth for it.
 *
 * The knife keeps its heading while it travels, so at the start of a path it turns from that heading to
 * the first one in the same way, and no waste is cut to set it.
 */
export function cutTrailing(
  tip: Path,
  from: KnifeState,
  knife: TrailingKnife,
  cutZ: number,
): CutMoves {
  const segments = segmentsOf(tip);
  const ahead = (t: Point, tangent: Point): Point => plus(t, times(tangent, knife.offset));
  const moves = travelTo(ahead(segments[0]!.from, headingOf(from.deg)), from.at);
  let deg = from.deg;
  let z = Infinity;
  const tipTo = (depth: number): void => {
    if (depth !== z) moves.push({ kind: 'lower', z: depth });
    z = depth;
  };
  for (const segment of segments) {
    const start = tangentAt(segment, 0);
    const turn = turnDeg(deg, headingDeg(start));
    if (Math.abs(turn) > negligibleTurnDeg) {
      tipTo(Math.abs(turn) > knife.swivelAboveDeg ? knife.swivelDepth : cutZ);
      moves.push(arc(ahead(segment.from, start), segment.from, turn));
    }
    tipTo(cutZ);
    const end = tangentAt(segment, 1);
    moves.push(strokeAlong(segment, ahead(segment.to, end)));
    deg = headingDeg(end);
  }
  moves.push({ kind: 'lift' });
  const last = segments.at(-1)!;
  return { moves, after: { at: ahead(last.to, tangentAt(last, 1)), deg } };
}

function strokeAlong(segment: Segment, to: Point): Move {
  if (segment.bulge === 0) return { kind: 'line', to, deg: null };
  const { centre, sweep } = arcOf(segment);
  return arc(to, centre, (sweep * 180) / Math.PI);
}

function arc(to: Point, centre: Point, sweepDeg: number): Move {
  return { kind: 'arc', to, centre, sweepDeg, deg: null };
}
