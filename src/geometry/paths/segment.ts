import type { Box } from './box.ts';
import type { Point } from './point.ts';
import { between, cross, distance, dot, leftOf, minus, plus, times, unit } from './point.ts';

/**
 * A straight or circular piece of a path, in mm. `bulge` is tan(sweep / 4): positive if the arc runs
 * counter-clockwise, 0 if the segment is straight. This is the convention of DXF group 42.
 */
export interface Segment {
  readonly from: Point;
  readonly to: Point;
  readonly bulge: number;
}

/** Centre and radius in mm; start and sweep in radians, counter-clockwise positive. */
export interface Arc {
  readonly centre: Point;
  readonly radius: number;
  readonly start: number;
  readonly sweep: number;
}

/** The angle that a segment sweeps, in radians, counter-clockwise positive; 0 for a straight one. */
export function sweepOf(bulge: number): number {
  return 4 * Math.atan(bulge);
}

/** The bulge of a segment that sweeps this angle, in radians: the inverse of sweepOf. */
export function bulgeOf(sweep: number): number {
  return Math.tan(sweep / 4);
}

/** The arc of a segment. Its bulge must not be 0. */
export function arcOf(segment: Segment): Arc {
  const { from, to, bulge } = segment;
  const chord = minus(to, from);
  const rise = (1 - bulge * bulge) / (4 * bulge);
  const centre = plus(between(from, to, 0.5), times(leftOf(chord), rise));
  return {
    centre,
    radius: (distance(from, to) * (1 + bulge * bulge)) / (4 * Math.abs(bulge)),
    start: Math.atan2(from.y - centre.y, from.x - centre.x),
    sweep: sweepOf(bulge),
  };
}

/** The length of a segment along its arc, mm. */
export function segmentLength(segment: Segment): number {
  if (segment.bulge === 0) return distance(segment.from, segment.to);
  const { radius, sweep } = arcOf(segment);
  return radius * Math.abs(sweep);
}

/** The point at share t of the segment's length: 0 is `from`, 1 is `to`. */
export function pointAt(segment: Segment, t: number): Point {
  if (t === 0) return segment.from;
  if (t === 1) return segment.to;
  if (segment.bulge === 0) return between(segment.from, segment.to, t);
  const { centre, radius, start, sweep } = arcOf(segment);
  const angle = start + sweep * t;
  return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) };
}

/** The unit vector of travel at share t of the segment's length. */
export function tangentAt(segment: Segment, t: number): Point {
  const chord = unit(minus(segment.to, segment.from));
  if (segment.bulge === 0) return chord;
  // Half way along an arc the tangent is parallel to the chord. From start to end it turns by the sweep.
  const turn = sweepOf(segment.bulge) * (t - 0.5);
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  return { x: chord.x * c - chord.y * s, y: chord.x * s + chord.y * c };
}

/** The part of the segment between two shares of its length, t0 < t1. */
export function partOfSegment(segment: Segment, t0: number, t1: number): Segment {
  return {
    from: pointAt(segment, t0),
    to: pointAt(segment, t1),
    bulge:
      segment.bulge === 0
        ? 0
        : t0 === 0 && t1 === 1
          ? segment.bulge
          : bulgeOf(sweepOf(segment.bulge) * (t1 - t0)),
  };
}

/** The point of a segment that is nearest to a given point. */
export interface Nearest {
  /** Share of the segment's length. */
  readonly t: number;
  readonly point: Point;
  /** Distance of that point from the given one, mm. */
  readonly distance: number;
}

/** The point of the segment nearest to p. */
export function nearestOnSegment(segment: Segment, p: Point): Nearest {
  const t = segment.bulge === 0 ? shareOnLine(segment, p) : shareOnArc(segment, p);
  const point = pointAt(segment, t);
  return { t, point, distance: distance(point, p) };
}

function shareOnLine({ from, to }: Segment, p: Point): number {
  const along = minus(to, from);
  const square = dot(along, along);
  if (square === 0) return 0;
  return Math.min(1, Math.max(0, dot(minus(p, from), along) / square));
}

function shareOnArc(segment: Segment, p: Point): number {
  const { centre, start, sweep } = arcOf(segment);
  const turn = 2 * Math.PI;
  const swept = (Math.atan2(p.y - centre.y, p.x - centre.x) - start) * Math.sign(sweep);
  const along = ((swept % turn) + turn) % turn;
  if (along <= Math.abs(sweep)) return along / Math.abs(sweep);
  return distance(p, segment.from) <= distance(p, segment.to) ? 0 : 1;
}

/**
 * The smallest box with sides along x and y around the segment: it holds the ends, and those of the
 * circle's rightmost, leftmost, highest and lowest points that the arc passes.
 */
export function boxOfSegment(segment: Segment): Box {
  const { from, to } = segment;
  let minX = Math.min(from.x, to.x);
  let maxX = Math.max(from.x, to.x);
  let minY = Math.min(from.y, to.y);
  let maxY = Math.max(from.y, to.y);
  if (segment.bulge !== 0) {
    const { centre, radius } = arcOf(segment);
    const right = { x: centre.x + radius, y: centre.y };
    const left = { x: centre.x - radius, y: centre.y };
    const top = { x: centre.x, y: centre.y + radius };
    const bottom = { x: centre.x, y: centre.y - radius };
    if (sweepsOver(segment, right)) maxX = Math.max(maxX, right.x);
    if (sweepsOver(segment, left)) minX = Math.min(minX, left.x);
    if (sweepsOver(segment, top)) maxY = Math.max(maxY, top.y);
    if (sweepsOver(segment, bottom)) minY = Math.min(minY, bottom.y);
  }
  return { minX, minY, maxX, maxY };
}

/** Whether the arc passes a given point of its circle. */
function sweepsOver(segment: Segment, point: Point): boolean {
  // A counter-clockwise arc lies to the right of its chord, a clockwise one to the left.
  return cross(minus(segment.to, segment.from), minus(point, segment.from)) * segment.bulge < 0;
}
