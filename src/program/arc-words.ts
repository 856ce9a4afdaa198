import type { Point } from '../geometry/point.ts';
import { between, distance, dot, minus, plus, times } from '../geometry/point.ts';
import { rotation, transformPoint } from '../geometry/transform.ts';
import { rounded } from '../numbers.ts';

/** NISTIR 6556: a controller refuses an arc whose start and end lie on radii that differ by more, mm. */
const radiusTolerance = 0.002;

/** An arc that rises less than this (mm) over its chord is a straight cut. */
const flatRise = 0.001;

/** Degrees. From here on the two ends say too little about where the centre is. */
const widestSweep = 181;

/** An arc as the knife should go it; its start is where the arc before it ended. */
export interface ExactArc {
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  /** Counter-clockwise positive. */
  readonly sweepDeg: number;
  /** Knife headings at both ends, or null. */
  readonly headings: readonly [number, number] | null;
}

/** A stroke in numbers as they are written: `to` and `centre` (from the start) rounded; no centre: straight. */
export interface WrittenStroke {
  readonly to: Point;
  readonly centre: { readonly i: number; readonly j: number } | null;
  readonly counterClockwise: boolean;
  readonly deg: number | null;
}

/**
 * The arc in strokes that a controller takes, from the rounded point where the last stroke ended:
 * end points are rounded first, then the centre is set anew on the bisector of the rounded chord, so
 * that rounding it in turn moves the two radii apart by 0.0014 mm at most (twice half a diagonal of
 * a thousandth). Arcs over a half turn are cut in two; slivers become straight strokes.
 */
export function writtenArc(arc: ExactArc, start: Point, decimals: number): WrittenStroke[] {
  const to = { x: rounded(arc.to.x, decimals), y: rounded(arc.to.y, decimals) };
  const stroke = { to, counterClockwise: arc.sweepDeg > 0, deg: arc.headings?.[1] ?? null };
  if (riseOf(arc) < flatRise) return [{ ...stroke, centre: null }];
  if (Math.abs(arc.sweepDeg) <= widestSweep && distance(start, to) > 0) {
    return [{ ...stroke, centre: centreFromStart(arc.centre, start, to, decimals) }];
  }
  const [first, second] = halves(arc);
  const head = writtenArc(first, start, decimals);
  return [...head, ...writtenArc(second, head.at(-1)!.to, decimals)];
}

function riseOf({ from, centre, sweepDeg }: ExactArc): number {
  return distance(from, centre) * (1 - Math.cos((Math.abs(sweepDeg) * Math.PI) / 360));
}

function centreFromStart(
  centre: Point,
  start: Point,
  end: Point,
  decimals: number,
): { i: number; j: number } {
  const chord = minus(end, start);
  const off = dot(minus(centre, between(start, end, 0.5)), chord) / dot(chord, chord);
  const { x, y } = minus(minus(centre, times(chord, off)), start);
  const i = rounded(x, decimals);
  const j = rounded(y, decimals);
  const apart = Math.abs(Math.hypot(i, j) - distance(end, plus(start, { x: i, y: j })));
  if (apart > radiusTolerance) throw new RangeError(`the radii of an arc differ by ${apart} mm`);
  return { i, j };
}

function halves(arc: ExactArc): [ExactArc, ExactArc] {
  const { from, centre, headings } = arc;
  const sweepDeg = arc.sweepDeg / 2;
  const middle = plus(centre, transformPoint(rotation(sweepDeg), minus(from, centre)));
  const heading = headings === null ? null : (headings[0] + headings[1]) / 2;
  return [
    { ...arc, to: middle, sweepDeg, headings: headings && [headings[0], heading!] },
    { ...arc, from: middle, sweepDeg, headings: headings && [heading!, headings[1]] },
  ];
}
