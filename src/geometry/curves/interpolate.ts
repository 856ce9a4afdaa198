import type { Spline } from './curve.ts';
import type { Point } from '../paths/point.ts';
import { distance, minus, plus, times, unit } from '../paths/point.ts';

/**
 * The headings of an interpolated curve at its ends. At an end without one the curve is not bent: its
 * second derivative is zero there.
 */
export interface EndHeadings {
  readonly start?: Point | undefined;
  readonly end?: Point | undefined;
}

/**
 * The cubic spline through `points`, with continuous curvature. Its parameter grows by the length of the
 * chord from point to point. If `closed`, the last point must be the first, and the curve is smooth there
 * too (unless it has fewer than three chords). Needs at least two points, and no two equal ones in a row.
 *
 * The idea: if the speed (the derivative) at every point were known, each chord would have one cubic,
 * with control points a third of the speed away from its ends. The second derivatives of neighbouring
 * cubics must agree at the point they share: that is one linear equation for three neighbouring speeds,
 * and all of them together are a tridiagonal system. (C. de Boor, A Practical Guide to Splines, chapter
 * IV; from memory.)
 */
export function throughPoints(
  points: readonly Point[],
  ends: EndHeadings,
  closed: boolean,
): Spline {
  const steps = points.slice(1).map((point, i) => distance(points[i]!, point));
  const speeds = closed ? closedSpeeds(points, steps) : openSpeeds(points, steps, ends);
  const controls: Point[] = [points[0]!];
  const knots = [0, 0, 0, 0];
  let length = 0;
  for (const [i, step] of steps.entries()) {
    const [from, to] = [points[i]!, points[i + 1]!];
    controls.push(plus(from, times(speeds[i]!, step / 3)));
    controls.push(minus(to, times(speeds[i + 1]!, step / 3)), to);
    length += step;
    knots.push(length, length, length);
  }
  knots.push(length);
  return { kind: 'spline', degree: 3, knots, points: controls, weights: controls.map(() => 1) };
}

/** The equation of point i for the speeds s: a s[i - 1] + b s[i] + c s[i + 1] = d. */
interface EquationRow {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: Point;
}

function innerRow(before: Point, here: Point, after: Point, h0: number, h1: number): EquationRow {
  const left = times(minus(here, before), 1 / h0);
  const right = times(minus(after, here), 1 / h1);
  return { a: h1, b: 2 * (h0 + h1), c: h0, d: times(plus(times(left, h1), times(right, h0)), 3) };
}

function openSpeeds(
  points: readonly Point[],
  steps: readonly number[],
  ends: EndHeadings,
): Point[] {
  const last = points.length - 1;
  const slope = (i: number): Point => times(minus(points[i + 1]!, points[i]!), 1 / steps[i]!);
  const first: EquationRow = ends.start
    ? { a: 0, b: 1, c: 0, d: unit(ends.start) }
    : { a: 0, b: 2, c: 1, d: times(slope(0), 3) };
  const final: EquationRow = ends.end
    ? { a: 0, b: 1, c: 0, d: unit(ends.end) }
    : { a: 1, b: 2, c: 0, d: times(slope(last - 1), 3) };
  const inner = points
    .slice(1, -1)
    .map((here, i) => innerRow(points[i]!, here, points[i + 2]!, steps[i]!, steps[i + 1]!));
  return solved([first, ...inner, final]);
}

/**
 * The speeds of a closed curve. Here the first equation also holds the last unknown, and the last
 * equation the first unknown, so the system is not tridiagonal. It is solved without these two
 * coefficients, and the solution is then corrected by the formula of Sherman and Morrison.
 */
function closedSpeeds(points: readonly Point[], steps: readonly number[]): Point[] {
  const count = steps.length;
  const rows = steps.map((step, i) => {
    const before = (i - 1 + count) % count;
    return innerRow(points[before]!, points[i]!, points[i + 1]!, steps[before]!, step);
  });
  if (count < 3) return openSpeeds(points, steps, {});
  // The two coefficients in the corners of the matrix are written as a product u v^T with u = (gamma, 0,
  // ..., 0, corner) and v = (1, 0, ..., 0, top / gamma). `open` is the matrix less that product,
  // `weights` solves it for u.
  const gamma = -rows[0]!.b;
  const corner = rows[count - 1]!.c;
  const top = rows[0]!.a;
  const open = rows.map((row, i): EquationRow => {
    if (i === 0) return { ...row, b: row.b - gamma };
    return i === count - 1 ? { ...row, b: row.b - (corner * top) / gamma } : row;
  });
  const plain = solved(open);
  const weights = solved(
    open.map((row, i): EquationRow => ({
      ...row,
      d: { x: i === 0 ? gamma : i === count - 1 ? corner : 0, y: 0 },
    })),
  ).map(({ x }) => x);
  const ratio = top / gamma;
  const scale = 1 / (1 + weights[0]! + ratio * weights[count - 1]!);
  const excess = times(plus(plain[0]!, times(plain[count - 1]!, ratio)), scale);
  const speeds = plain.map((speed, i) => minus(speed, times(excess, weights[i]!)));
  return [...speeds, speeds[0]!];
}

/** Solves the tridiagonal equations: eliminates from the top, then substitutes from the bottom. */
function solved(rows: readonly EquationRow[]): Point[] {
  const share: number[] = [];
  const value: Point[] = [];
  for (const [i, { a, b, c, d }] of rows.entries()) {
    const pivot = b - a * (share[i - 1] ?? 0);
    share.push(c / pivot);
    value.push(times(minus(d, times(value[i - 1] ?? { x: 0, y: 0 }, a)), 1 / pivot));
  }
  for (let i = rows.length - 2; i >= 0; i--) {
    value[i] = minus(value[i]!, times(value[i + 1]!, share[i]!));
  }
  return value;
}
