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
  /** mm along the path. */
  readonly along: number;
  /** Whether the knife, gone straight on, would cut what is kept. */
  readonly inside: boolean;
}

/** A cut with what the blade may leave uncut below, for the tip or the upper side to be right. */
export interface BladeCut extends ExpectedCut {
  readonly measured: MeasuredPath;
  readonly turns: readonly StrokeEnd[];
}

/** mm. What rounding to six decimals does to the direction of a shorter segment can be seen. */
export const sliver = 0.01;

/** The corners at which the knife is lifted or swivelled, and the ends of a notch; a mark has none that matter. */
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
    // Contours run counter-clockwise: what is kept lies left of an outline and right of a cutout.
    return [{ along, inside: turn > 0 === (cut.kind !== 'outline') }];
  });
  return { ...cut, measured, turns };
}

/** Whether a place along a cut may be left uncut, as the blade must stop short of a corner or needs not reach it. */
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

/** The stretch of a segment that the knife must reach, mm along the cut: the corners at its ends may be left. */
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
  // The end of a closed path is its start.
  const isLast = measured.path.closed && segment === measured.segments.length - 1;
  const to = end - spared(isLast ? 0 : end, front);
  return from < to ? [from, to] : undefined;
}

/** A run between two outside corners no longer than this (mm) beyond what they take is cut from one to the other. */
const shortRun = 0.1;

/**
 * Whether every stroke stops short of the corners it runs up to and begins clear of those behind it:
 * before an inside corner so far that the blade's upper end hurts nothing kept, before an outside one
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
    // How far the corner lies ahead of the start, in the direction of the stroke.
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

/** Which way a stroke goes along a path: 1 with it, -1 against it. */
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

/** How far along a path the place nearest to a point lies, mm. */
export function alongOf(measured: MeasuredPath, p: Point): number {
  return stationLength(measured, nearestPlace(measured, p).station);
}

/** A length along a closed path of that length, in (-half, half]. */
export function shortestAlong(length: number, whole: number): number {
  const rest = ((length % whole) + whole) % whole;
  return rest > whole / 2 ? rest - whole : rest;
}
