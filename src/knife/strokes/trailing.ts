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
 * Cuts along an open path with a knife whose tip trails the swivel axis by d. Where the tip is at T
 * with unit tangent t, the axis is at T + d t: along a straight line beside itself, along an arc of
 * radius R on the same centre with radius sqrt(R^2 + d^2), ahead by atan(d / R). In a corner, and
 * from the heading carried here to the first one, the axis goes round the tip on a circle of radius
 * d; sharper than swivelAboveDeg with the tip raised to swivelDepth. The heading is known
 * throughout: it is carried through travel, so no waste is cut to set it.
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
