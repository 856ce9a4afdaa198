import type { ParametricCurve } from './curve.ts';
import type { Point } from '../paths/point.ts';
import { cross, distance, dot, minus, plus, times } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { nearestOnSegment, tangentAt } from '../paths/segment.ts';
import { samePoint } from '../paths/tolerance.ts';

/** Lines and arcs that stand for a curve. `deviation`: how far they are from the curve at most, mm. */
export interface ArcFit {
  readonly segments: readonly Segment[];
  readonly deviation: number;
  /**
   * The largest turn at a joint of two segments, degrees. Corners that the curve itself has do not count.
   */
  readonly kinkDeg: number;
}

/** A curve that turns by more than this (degrees) at a whole parameter has a corner there. */
const cornerDeg = 0.5;

/** How many places of the curve are compared with its arcs, for each whole step of the parameter. */
const looks = 12;

/**
 * Lines and arcs that stay within `tolerance` mm of a curve. They go through its ends and its corners.
 *
 * The idea: a stretch of the curve, given by its two ends and the headings there, is replaced by a biarc:
 * two arcs that meet without a kink, the first with the curve's heading at the start, the second with its
 * heading at the end. If the biarc is not near enough to the curve, the stretch is halved and each half
 * is tried by itself.
 *
 * A biarc has one degree of freedom. It is used up by making the handles equally long: the distances from
 * each end, along its heading, to the line that touches both arcs at the joint (K. M. Bolton, Biarc
 * curves, Computer-Aided Design 7 (1975); from memory). Undefined if the curve would take more than
 * mostArcs.
 */
export function fitArcs(trace: ParametricCurve, tolerance: number): ArcFit | undefined {
  const corners = cornersOf(trace);
  const parts: CurveSpan[] = [];
  for (const [i, to] of corners.slice(1).entries()) {
    if (!fitStretch(trace, corners[i]!, to, tolerance, parts)) return undefined;
  }
  const segments = parts.flatMap((part) => part.segments);
  return {
    segments,
    deviation: parts.reduce((most, part) => Math.max(most, part.deviation), 0),
    kinkDeg: largestKink(parts, new Set(corners)),
  };
}

/** A curve that takes more arcs than this is damaged: a metre of carpet edge takes about a hundred. */
export const mostArcs = 10_000;

interface CurveSpan {
  readonly from: number;
  readonly segments: readonly Segment[];
  readonly deviation: number;
}

/** The parameters of both ends and of the corners between them. */
function cornersOf({ end, headingBefore, headingAfter }: ParametricCurve): number[] {
  const inner = Array.from({ length: Math.max(0, end - 1) }, (_, i) => i + 1);
  const isCorner = (t: number): boolean =>
    Math.abs(turnOf(headingBefore(t), headingAfter(t))) > (cornerDeg * Math.PI) / 180;
  return [0, ...inner.filter(isCorner), end];
}

/**
 * Adds to `parts` the arcs for the curve between two parameters. Returns false once there are more than
 * mostArcs.
 */
function fitStretch(
  trace: ParametricCurve,
  start: number,
  end: number,
  tolerance: number,
  parts: CurveSpan[],
): boolean {
  const waiting = [{ from: start, to: end }];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const { from, to } = next;
    const half = (from + to) / 2;
    const middle = to - from > 1 ? Math.round(half) : half;
    const [p, q] = [trace.at(from), trace.at(to)];
    const segments = biarc(p, trace.headingAfter(from), q, trace.headingBefore(to));
    const deviation =
      segments === undefined ? Infinity : deviationOf(trace, from, to, segments, tolerance);
    if (segments !== undefined && deviation <= tolerance) {
      parts.push({ from, segments, deviation });
    } else if (isShort(trace, from, to, tolerance)) {
      // The stretch is too short for its headings to matter: a straight line stands for it.
      if (distance(p, q) > samePoint) {
        parts.push({ from, segments: [{ from: p, to: q, bulge: 0 }], deviation: 0 });
      }
    } else {
      waiting.push({ from: middle, to }, { from, to: middle });
    }
    if (parts.length + waiting.length > mostArcs) return false;
  }
  return true;
}

/**
 * Whether no arc is needed: the whole stretch lies within a hundredth of the tolerance of its start, or
 * its parameters are too close together to be halved.
 */
function isShort(trace: ParametricCurve, from: number, to: number, tolerance: number): boolean {
  if (to - from < 1e-9) return true;
  const p = trace.at(from);
  const within = tolerance / 100;
  return [0.25, 0.5, 0.75, 1].every((t) => distance(p, trace.at(from + (to - from) * t)) < within);
}

/**
 * The biarc from p, with its heading, to q, with its last heading: two arcs, or one segment if both arcs
 * are parts of one circle or of one line. Undefined if p and q are one point, or if a heading is more
 * than 60 degrees off the chord: two arcs cannot follow such a curve.
 */
function biarc(p: Point, heading: Point, q: Point, lastHeading: Point): Segment[] | undefined {
  const chord = minus(q, p);
  const square = dot(chord, chord);
  if (square <= samePoint * samePoint) return undefined;
  const steep = Math.max(Math.abs(turnOf(heading, chord)), Math.abs(turnOf(chord, lastHeading)));
  if (steep > Math.PI / 3) return undefined;
  // The handles end at p + d heading and q - d lastHeading. Both touch the joint's tangent, so these ends
  // are 2 d apart: |chord|^2 - 2 d chord.(heading + lastHeading) + 2 d^2 (heading.lastHeading - 1) = 0.
  // This is the positive solution d, in the form that stays exact when `a` is 0.
  const b = dot(chord, plus(heading, lastHeading));
  const a = 2 * (1 - dot(heading, lastHeading));
  const handle = square / (b + Math.sqrt(b * b + a * square));
  const joint = times(plus(plus(p, q), times(minus(heading, lastHeading), handle)), 0.5);
  const first = { from: p, to: joint, bulge: bulgeFor(heading, minus(joint, p)) };
  const second = { from: joint, to: q, bulge: bulgeFor(minus(q, joint), lastHeading) };
  return isOneArc(first, second)
    ? [{ from: p, to: q, bulge: bulgeFor(heading, chord) }]
    : [first, second];
}

/**
 * The bulge, tan(sweep / 4), of an arc from its heading at the start and its chord, or from its chord and
 * its heading at the end: the angle between the two is half the sweep.
 */
function bulgeFor(from: Point, to: Point): number {
  const bulge = Math.tan(turnOf(from, to) / 2);
  return Math.abs(bulge) < 1e-9 ? 0 : bulge;
}

/** Whether both arcs are equal parts of one circle, or both segments are straight. */
function isOneArc(first: Segment, second: Segment): boolean {
  return (
    Math.abs(first.bulge - second.bulge) < 1e-9 &&
    Math.abs(distance(first.from, first.to) - distance(second.from, second.to)) < samePoint
  );
}

function turnOf(from: Point, to: Point): number {
  return Math.atan2(cross(from, to), dot(from, to));
}

/**
 * How far the curve is from its arcs, mm. The search ends as soon as that is more than the tolerance: the
 * result is then only a lower bound.
 */
function deviationOf(
  trace: ParametricCurve,
  from: number,
  to: number,
  segments: readonly Segment[],
  tolerance: number,
): number {
  const count = Math.ceil(looks * Math.max(1, to - from));
  let worst = 0;
  for (let i = 1; i < count && worst <= tolerance; i++) {
    const p = trace.at(from + ((to - from) * i) / count);
    const off = Math.min(...segments.map((segment) => nearestOnSegment(segment, p).distance));
    worst = Math.max(worst, off);
  }
  return worst;
}

function largestKink(parts: readonly CurveSpan[], corners: ReadonlySet<number>): number {
  let worst = 0;
  let before: Segment | undefined;
  for (const { from, segments } of parts) {
    for (const [i, segment] of segments.entries()) {
      if (before !== undefined && !(i === 0 && corners.has(from))) {
        worst = Math.max(worst, Math.abs(turnOf(tangentAt(before, 1), tangentAt(segment, 0))));
      }
      before = segment;
    }
  }
  return (worst * 180) / Math.PI;
}
