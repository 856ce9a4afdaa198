import type { Finding } from '../../base/findings.ts';
import { headingDeg, turnDeg } from '../../geometry/paths/angle.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, leftOf, minus, times } from '../../geometry/paths/point.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { MotionAction, Program } from '../reading/actions.ts';
import { isMotion, movesOverBed } from '../reading/actions.ts';
import { fault } from './faults.ts';
import { isAtCutDepth } from '../reading/trace.ts';

/** Degrees by which a tangential knife may look aside of its way. */
const headingTolerance = 0.1;
/** Rise (mm) up to which an arc may be written as a straight stroke, its heading turning along it. */
const flatRise = 0.0015;
/** A stroke shorter than this (mm) is all rounding and has no heading of its own. */
const noHeading = 0.01;

/**
 * Whether a tangential knife looks along its way, to 0.1 degrees and what rounding of the ends can do,
 * wherever it cuts; along a line that stands for an arc its heading goes with the arc.
 */
export function proveHeadings(program: Program, cutter: Cutter): Finding[] {
  if (cutter.knife.kind !== 'tangential') return [];
  const { decimals, units, arcs } = cutter.program;
  const step = 10 ** -decimals * (units === 'mm' ? 1 : 25.4);
  const rise = flatRise + (arcs === 'exact' ? 0 : arcs.chordError);
  return program.actions
    .filter(isMotion)
    .filter((motion) => movesOverBed(motion) && isAtCutDepth(motion.from.z, cutter))
    .flatMap((motion) => {
      const off = motion.kind === 'arc' ? offOnArc(motion, step) : offOnLine(motion, step, rise);
      if (off === undefined) return [];
      const message = `the knife looks ${off.toFixed(2)} degrees aside of its way.`;
      return [
        fault('heading', message, { file: program.file, line: motion.line, at: motion.from }),
      ];
    });
}

/** Degrees aside, where that is too much; `rise` is of the highest arc (mm) that a line may stand for. */
function offOnLine({ from, to }: MotionAction, step: number, rise: number): number | undefined {
  const length = distance(from, to);
  if (length < noHeading) return undefined;
  const course = headingDeg(minus(to, from));
  const slack = headingTolerance + degrees((1.5 * step) / length);
  const middle = Math.abs(turnDeg(course, (from.deg + to.deg) / 2));
  if (middle > slack) return middle;
  const swing = Math.abs(to.deg - from.deg);
  return swing > slack + degrees((8 * rise) / length) ? swing : undefined;
}

function offOnArc(arc: Extract<MotionAction, { kind: 'arc' }>, step: number): number | undefined {
  const { from, to, centre, radius, sweepDeg } = arc;
  const length = (radius * Math.abs(sweepDeg) * Math.PI) / 180;
  if (length < noHeading) return undefined;
  const tangent = (p: Point): number =>
    headingDeg(times(leftOf(minus(p, centre)), Math.sign(sweepDeg)));
  const slack = headingTolerance + degrees((3 * step) / Math.min(length, radius));
  const off = Math.max(
    Math.abs(turnDeg(tangent(from), from.deg)),
    Math.abs(turnDeg(tangent(to), to.deg)),
    Math.abs(to.deg - from.deg - sweepDeg),
  );
  return off > slack ? off : undefined;
}

function degrees(radians: number): number {
  return (radians * 180) / Math.PI;
}
