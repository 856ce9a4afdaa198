import type { ParametricCurve } from './curve.ts';
import type { Point } from '../paths/point.ts';
import { cross, distance, dot, minus, plus, times } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { nearestOnSegment, tangentAt } from '../paths/segment.ts';
import { samePoint } from '../paths/tolerance.ts';

/** A curve as lines and arcs: how far it is off at most, mm, and by how much it turns at a joint at most, degrees. */
export interface ArcFit {
  readonly segments: readonly Segment[];
  readonly deviation: number;
  /** Corners that the curve itself has do not count. */
  readonly kinkDeg: number;
}

/** A curve that turns by more than this where two stretches meet has a corner there, degrees. */
const cornerDeg = 0.5;

/** Points of a stretch between whole numbers that its arcs are held against. */
const looks = 12;

/**
 * Lines and arcs that follow a curve within a tolerance (mm), through its ends and corners, with its
 * direction at every end of a pair of arcs and no kink between the two: biarcs whose end handles are
 * of equal length (K. M. Bolton, Biarc curves, Computer-Aided Design 7 (1975); from memory). Stretches
 * that do not come near enough are halved. Undefined where that takes more than mostArcs.
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

/** A curve that takes more arcs than this is damaged: a metre of carpet takes a hundred. */
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

/** Adds what follows the curve between two parameters; false beyond mostArcs. */
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
      // Too short to have a direction that counts.
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

/** Whether all of a stretch lies so near to its ends, or the parameter is so fine, that no arc is needed. */
function isShort(trace: ParametricCurve, from: number, to: number, tolerance: number): boolean {
  if (to - from < 1e-9) return true;
  const p = trace.at(from);
  const within = tolerance / 100;
  return [0.25, 0.5, 0.75, 1].every((t) => distance(p, trace.at(from + (to - from) * t)) < within);
}

/**
 * Two arcs from a point and direction to another, none or one where they are straight or of no
 * length; undefined where the curve turns too far from its chord for two arcs to follow it.
 */
function biarc(p: Point, heading: Point, q: Point, lastHeading: Point): Segment[] | undefined {
  const chord = minus(q, p);
  const square = dot(chord, chord);
  if (square <= samePoint * samePoint) return undefined;
  const steep = Math.max(Math.abs(turnOf(heading, chord)), Math.abs(turnOf(chord, lastHeading)));
  if (steep > Math.PI / 3) return undefined;
  // |chord|2 - 2 d chord.(heading + lastHeading) + 2 d2 (heading.lastHeading - 1) = 0 for handles d.
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

/** tan(sweep / 4) of the arc whose chord and end tangent stand at half its sweep to each other. */
function bulgeFor(from: Point, to: Point): number {
  const bulge = Math.tan(turnOf(from, to) / 2);
  return Math.abs(bulge) < 1e-9 ? 0 : bulge;
}

/** Equal parts of one circle, or both straight. */
function isOneArc(first: Segment, second: Segment): boolean {
  return (
    Math.abs(first.bulge - second.bulge) < 1e-9 &&
    Math.abs(distance(first.from, first.to) - distance(second.from, second.to)) < samePoint
  );
}

function turnOf(from: Point, to: Point): number {
  return Math.atan2(cross(from, to), dot(from, to));
}

/** How far the curve is from its arcs, mm; once that is beyond the tolerance, no longer looked at. */
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
