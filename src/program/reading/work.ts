import type { Box } from '../../geometry/paths/box.ts';
import { boxOfPoints, emptyBox, unionBox } from '../../geometry/paths/box.ts';
import { boxOfSegment, segmentLength } from '../../geometry/paths/segment.ts';
import type { Cutter } from '../../knife/cutter.ts';
import { estimate } from '../../knife/time/estimate.ts';
import type { Program } from './actions.ts';
import { isMotion, movesOverBed } from './actions.ts';
import { movesOfProgram } from './as-moves.ts';
import type { Trace } from './trace.ts';
import { segmentsOfMotion } from './trace.ts';

/** How much a program does, by its moves. Lengths in mm. */
export interface ProgramWork {
  /** Length that the tip cuts. */
  readonly cutLength: number;
  /** Length that the axis goes with the knife up. */
  readonly travelLength: number;
  /** Estimated, as the profile says how fast the machine is. */
  readonly minutes: number;
  /** The box round the way of the axis, from the first place to which it goes; null: it goes nowhere. */
  readonly reach: Box | null;
}

/** What a cutting program does. `own`: its lines that the profile gives, which are not counted. */
export function workOf(
  program: Program,
  { strokes }: Trace,
  cutter: Cutter,
  own: ReadonlySet<number>,
): ProgramWork {
  const actions = program.actions.filter(({ line }) => !own.has(line));
  const moves = movesOfProgram({ ...program, actions }, cutter).map(({ move }) => move);
  const { travelLength, minutes } = estimate(moves, cutter);
  const cutLength = strokes
    .flatMap(({ steps }) => steps)
    .reduce((sum, { segment }) => sum + segmentLength(segment), 0);
  return { cutLength, travelLength, minutes, reach: reachOfAxis({ ...program, actions }) };
}

function reachOfAxis({ actions }: Program): Box | null {
  const ways = actions.filter(isMotion).filter(movesOverBed);
  if (ways.length === 0) return null;
  return ways
    .map((motion, i) =>
      i === 0
        ? boxOfPoints([motion.to])
        : segmentsOfMotion(motion).map(boxOfSegment).reduce(unionBox),
    )
    .reduce(unionBox, emptyBox);
}
