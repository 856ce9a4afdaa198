import type { Point } from '../../geometry/paths/point.ts';
import { between, distance, dot, minus, plus, times } from '../../geometry/paths/point.ts';
import { rotation, transformPoint } from '../../geometry/paths/transform.ts';
import { rounded } from '../../base/numbers.ts';

/** How numbers are written: with how many decimals, and in which unit. */
export interface Figures {
  readonly decimals: number;
  readonly units: 'mm' | 'inch';
}

/**
 * A controller refuses an arc if the distances from its centre to start and end differ by more (NISTIR
 * 6556; the value for inches from memory).
 */
const radiusTolerance = { mm: 0.002, inch: 0.0002 };

/** An arc that rises less than this over its chord is written as a straight cut. */
const flatRise = { mm: 0.001, inch: 0.001 / 25.4 };

/** If an arc turns by more than this (degrees), its two ends do not fix its centre well enough. */
const widestSweep = 181;

/**
 * An arc that the knife should go. It begins where the stroke before it should have ended, before
 * rounding.
 */
export interface ExactArc {
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  /** Counter-clockwise positive. */
  readonly sweepDeg: number;
  /** Knife headings at both ends, or null. */
  readonly headings: readonly [number, number] | null;
}

/**
 * A stroke in numbers as they are written, rounded. `centre` is counted from the start of the stroke;
 * null: it is straight.
 */
export interface WrittenStroke {
  readonly to: Point;
  readonly centre: { readonly i: number; readonly j: number } | null;
  readonly counterClockwise: boolean;
  readonly deg: number | null;
}

/**
 * The arc in strokes that a controller accepts, from `start`, the rounded point where the last stroke
 * ended. Lengths are in the units of the program.
 *
 * The idea: end points are rounded first. Then the centre is moved onto the bisector of the rounded
 * chord, so that it is equally far from both ends, and rounded too. That makes the two radii differ by
 * 0.0014 mm at most (twice half the diagonal of a thousandth). Arcs over a half turn are divided in two,
 * and very flat ones become straight strokes.
 */
export function writtenArc(arc: ExactArc, start: Point, figures: Figures): WrittenStroke[] {
  const { decimals, units } = figures;
  const to = { x: rounded(arc.to.x, decimals), y: rounded(arc.to.y, decimals) };
  const stroke = { to, counterClockwise: arc.sweepDeg > 0, deg: arc.headings?.[1] ?? null };
  if (riseOf(arc) < flatRise[units]) return [{ ...stroke, centre: null }];
  if (Math.abs(arc.sweepDeg) <= widestSweep && distance(start, to) > 0) {
    return [{ ...stroke, centre: centreFromStart(arc.centre, start, to, figures) }];
  }
  const [first, second] = halves(arc);
  const head = writtenArc(first, start, figures);
  return [...head, ...writtenArc(second, head.at(-1)!.to, figures)];
}

/**
 * The arc as straight strokes of equal length, whose ends lie on it and which leave it by `error` at
 * most: each spans up to 2 acos(1 - error / R). The heading turns evenly, so that the knife points along
 * the arc at every end.
 */
export function writtenChords(
  arc: ExactArc,
  error: number,
  { decimals }: Figures,
): WrittenStroke[] {
  const { centre, from, sweepDeg, headings } = arc;
  const out = minus(from, centre);
  const step = (360 / Math.PI) * Math.acos(Math.max(-1, 1 - error / Math.hypot(out.x, out.y)));
  const count = Math.max(1, Math.ceil(Math.abs(sweepDeg) / step - 1e-9));
  return Array.from({ length: count }, (_, i) => {
    const share = (i + 1) / count;
    const turned = plus(centre, transformPoint(rotation(sweepDeg * share), out));
    const { x, y } = i === count - 1 ? arc.to : turned;
    return {
      to: { x: rounded(x, decimals), y: rounded(y, decimals) },
      centre: null,
      counterClockwise: true,
      deg: headings && headings[0] + (headings[1] - headings[0]) * share,
    };
  });
}

function riseOf({ from, centre, sweepDeg }: ExactArc): number {
  return distance(from, centre) * (1 - Math.cos((Math.abs(sweepDeg) * Math.PI) / 360));
}

function centreFromStart(
  centre: Point,
  start: Point,
  end: Point,
  { decimals, units }: Figures,
): { i: number; j: number } {
  const chord = minus(end, start);
  const off = dot(minus(centre, between(start, end, 0.5)), chord) / dot(chord, chord);
  const { x, y } = minus(minus(centre, times(chord, off)), start);
  const i = rounded(x, decimals);
  const j = rounded(y, decimals);
  const apart = Math.abs(Math.hypot(i, j) - distance(end, plus(start, { x: i, y: j })));
  if (apart > radiusTolerance[units])
    throw new RangeError(`the radii of an arc differ by ${apart}`);
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
