import type { Finding } from '../../base/findings.ts';
import { headingDeg, turnDeg } from '../../geometry/paths/angle.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, leftOf, minus, times } from '../../geometry/paths/point.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { MotionAction, Program } from '../reading/actions.ts';
import { isMotion, movesOverBed } from '../reading/actions.ts';
import { fault } from './faults.ts';
import { isAtCutDepth } from '../reading/trace.ts';

/** How far a tangential knife may point aside of its way, degrees. */
const headingTolerance = 0.1;
/**
 * An arc that rises no more than this (mm) over its chord may be written as a straight stroke along which
 * the heading turns.
 */
const flatRise = 0.0015;
/** A stroke shorter than this (mm) is hardly more than rounding and has no heading of its own. */
const noHeading = 0.01;

/**
 * Faults if a tangential knife does not point along its way wherever it cuts, within 0.1 degrees and what
 * rounding of the ends can do. Along a line that stands for an arc the heading follows the arc.
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

/**
 * How far the knife points aside of a line, in degrees, if that is too much; otherwise undefined. `rise`:
 * the highest arc that the line may stand for, mm.
 */
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
