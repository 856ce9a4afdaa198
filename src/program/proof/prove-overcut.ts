import type { Finding } from '../../base/findings.ts';
import { headingDeg, turnDeg } from '../../geometry/paths/angle.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import {
  measurePath,
  nearestPlace,
  stationLength,
} from '../../geometry/measuring/measured-path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { pointAt, segmentLength, tangentAt } from '../../geometry/paths/segment.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { BladeReach } from '../../knife/strokes/overcut.ts';
import { bladeReach } from '../../knife/strokes/overcut.ts';
import type { Coverage } from './coverage.ts';
import { onContour, strokeLength } from './coverage.ts';
import type { ExpectedCut } from '../record/expected.ts';
import { fault } from './faults.ts';
import type { Stroke } from '../reading/trace.ts';

/** A place at which strokes end: a sharp corner of a contour, or an end of a notch. */
interface StrokeEnd {
  /** Length along the path, mm. */
  readonly along: number;
  /** Whether the knife would cut into what is kept if it went straight on. */
  readonly inside: boolean;
}

/**
 * A cut, and the places at which strokes on it must end: near these the blade may leave a little uncut.
 */
export interface BladeCut extends ExpectedCut {
  readonly measured: MeasuredPath;
  readonly turns: readonly StrokeEnd[];
}

/** In a segment shorter than this (mm) rounding to six decimals visibly changes the direction. */
export const sliver = 0.01;

/**
 * Finds the corners of a cut at which the knife is lifted or swivelled, or the ends of a notch. For a
 * registration mark there are none that matter.
 */
export function bladeCut(cut: ExpectedCut, { knife }: Cutter): BladeCut {
  const measured = measurePath(cut.path);
  if (cut.kind === 'mark') return { ...cut, measured, turns: [] };
  if (!cut.path.closed) {
    const turns = [
      { along: 0, inside: false },
      { along: measured.length, inside: true },
    ];
    return { ...cut, measured, turns };
  }
  const sharpest = knife.kind === 'tangential' ? knife.liftAboveDeg : knife.swivelAboveDeg;
  const sides = measured.segments
    .map((segment, i) => ({ segment, along: measured.starts[i]! }))
    .filter(({ segment }) => segmentLength(segment) >= sliver);
  const turns = sides.flatMap(({ segment, along }, i): StrokeEnd[] => {
    const before = sides.at(i - 1)!.segment;
    const turn = turnDeg(headingDeg(tangentAt(before, 1)), headingDeg(tangentAt(segment, 0)));
    if (Math.abs(turn) <= sharpest) return [];
    // Contours run counter-clockwise: what is kept lies to the left of an outline and to the right of a
    // cutout.
    return [{ along, inside: turn > 0 === (cut.kind !== 'outline') }];
  });
  return { ...cut, measured, turns };
}

/**
 * Whether a place along a cut may stay uncut, because the blade must stop short of a corner or need not
 * reach it.
 */
export function mayBeUncut(
  { measured, turns, path }: BladeCut,
  along: number,
  { front, rear }: BladeReach,
): boolean {
  return turns.some(({ along: at, inside }) => {
    const off = path.closed ? shortestAlong(along - at, measured.length) : along - at;
    const reach = off < 0 ? front : rear;
    return Math.abs(off) <= (inside ? reach.upper : reach.under) + onContour;
  });
}

/**
 * The stretch of a segment that the knife must reach, mm along the cut. At both ends what mayBeUncut
 * allows is left out. Undefined if nothing is left.
 */
export function neededStretch(
  { measured, turns }: BladeCut,
  segment: number,
  { front, rear }: BladeReach,
): readonly [number, number] | undefined {
  const [start, end] = [measured.starts[segment]!, measured.starts[segment + 1]!];
  const spared = (at: number, reach: BladeReach['front']): number => {
    const turn = turns.find(({ along }) => Math.abs(along - at) <= samePoint);
    return turn === undefined ? 0 : (turn.inside ? reach.upper : reach.under) + onContour;
  };
  const from = start + spared(start, rear);
  // The end of a closed path is its start, at length 0.
  const isLast = measured.path.closed && segment === measured.segments.length - 1;
  const to = end - spared(isLast ? 0 : end, front);
  return from < to ? [from, to] : undefined;
}

/**
 * A stretch between two outside corners may be cut from corner to corner if it is this much longer (mm),
 * or less, than what the blade leaves at both.
 */
const shortRun = 0.1;

/**
 * Faults if a stroke does not keep clear of the corners ahead of it and behind it. From an inside corner
 * it must stay so far that the upper side of what is kept is not cut. From an outside corner it must stay
 * so far that the underside is cut no further than to it.
 */
export function overcutFaults(
  { cutsOf }: Coverage,
  strokes: readonly Stroke[],
  cuts: readonly BladeCut[],
  cutter: Cutter,
  thickness: number,
): Finding[] {
  const reach = bladeReach(cutter, thickness);
  return strokes.flatMap((stroke, i) =>
    cutsOf[i]!.flatMap((cut) => strokeFaults(stroke, cuts[cut]!, reach, cutter)),
  );
}

function strokeFaults(
  stroke: Stroke,
  cut: BladeCut,
  { front, rear }: BladeReach,
  { knife }: Cutter,
): Finding[] {
  const { measured, turns, path, label } = cut;
  const from = stroke.steps[0]!.segment.from;
  const to = stroke.steps.at(-1)!.segment.to;
  const begin = alongOf(measured, from);
  const sense = senseOf(stroke, measured);
  const length = strokeLength(stroke);
  return turns.flatMap(({ along, inside }) => {
    // How far the corner is ahead of the start of the stroke, in the direction of the stroke.
    const off = sense * (along - begin);
    const ahead = path.closed ? shortestAlong(off - length / 2, measured.length) + length / 2 : off;
    const isBehind = ahead < length / 2;
    const clear = isBehind ? -ahead : ahead - length;
    const { upper, under } = isBehind ? rear : front;
    const isPassed = ahead > onContour && ahead < length - onContour;
    const isWhole = knife.kind === 'trailing' || length <= front.under + rear.under + shortRun;
    const needed = inside ? upper : isWhole ? 0 : under;
    if (isPassed ? !(inside && upper > 0) : clear >= needed - onContour) return [];
    const past = isPassed ? upper : needed - clear;
    const message = `the blade cuts ${past.toFixed(2)} mm past ${inside ? 'a corner into what is kept of the part' : 'a corner of the part'}.`;
    const { line } = isBehind ? stroke.steps[0]! : stroke.steps.at(-1)!;
    return [
      fault('overcut', message, { file: stroke.file, line, part: label, at: isBehind ? from : to }),
    ];
  });
}

/** The direction of a stroke along a path: 1 with it, -1 against it. */
function senseOf({ steps }: Stroke, measured: MeasuredPath): 1 | -1 {
  const longest = steps.reduce((best, step) =>
    segmentLength(step.segment) > segmentLength(best.segment) ? step : best,
  );
  const middle = pointAt(longest.segment, 0.5);
  const { station } = nearestPlace(measured, middle);
  const own = tangentAt(measured.segments[station.segment]!, station.t);
  const turn = turnDeg(headingDeg(own), headingDeg(tangentAt(longest.segment, 0.5)));
  return Math.abs(turn) <= 90 ? 1 : -1;
}

/** The length along a path of its place nearest to a point, mm. */
export function alongOf(measured: MeasuredPath, p: Point): number {
  return stationLength(measured, nearestPlace(measured, p).station);
}

/** The same length along a closed path of length `whole`, in (-whole / 2, whole / 2]. */
export function shortestAlong(length: number, whole: number): number {
  const rest = ((length % whole) + whole) % whole;
  return rest > whole / 2 ? rest - whole : rest;
}
