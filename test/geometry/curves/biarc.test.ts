import { describe, expect, it } from 'vitest';
import { fitArcs } from '../../../src/geometry/curves/biarc.ts';
import type { Curve, Spline } from '../../../src/geometry/curves/curve.ts';
import { traceOf, transformCurve } from '../../../src/geometry/curves/curve.ts';
import { throughPoints } from '../../../src/geometry/curves/interpolate.ts';
import type { Point } from '../../../src/geometry/paths/point.ts';
import { distance } from '../../../src/geometry/paths/point.ts';
import { nearestOnSegment, segmentLength } from '../../../src/geometry/paths/segment.ts';

/** Nodes and weights of Gauss and Legendre with five points on -1 to 1 (Abramowitz and Stegun, table 25.4). */
const gauss = [
  [0, 0.568888888888889],
  [0.538469310105683, 0.478628670499366],
  [-0.538469310105683, 0.478628670499366],
  [0.906179845938664, 0.236926885056189],
  [-0.906179845938664, 0.236926885056189],
] as const;

function integral(of: (x: number) => number, from: number, to: number, steps: number): number {
  const half = (to - from) / steps / 2;
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const middle = from + half * (2 * i + 1);
    for (const [node, weight] of gauss) sum += weight * half * of(middle + half * node);
  }
  return sum;
}

const ellipse: Curve = {
  kind: 'ellipse',
  centre: { x: 100, y: 50 },
  u: { x: 300, y: 0 },
  v: { x: 0, y: 120 },
  start: 0,
  sweep: 2 * Math.PI,
};

/** A cubic Bézier, whose speed is a polynomial written out here. */
const [p0, p1, p2, p3] = [
  { x: 0, y: 0 },
  { x: 80, y: 260 },
  { x: 310, y: -120 },
  { x: 400, y: 90 },
] as const;
const bezier: Spline = {
  kind: 'spline',
  degree: 3,
  knots: [0, 0, 0, 0, 1, 1, 1, 1],
  points: [p0, p1, p2, p3],
  weights: [1, 1, 1, 1],
};

function bezierSpeed(t: number): number {
  const along = (a: number, b: number, c: number, d: number): number =>
    3 * ((b - a) * (1 - t) ** 2 + 2 * (c - b) * t * (1 - t) + (d - c) * t * t);
  return Math.hypot(along(p0.x, p1.x, p2.x, p3.x), along(p0.y, p1.y, p2.y, p3.y));
}

function length(curve: Curve, tolerance: number): number {
  return fitArcs(traceOf(curve), tolerance)!.segments.reduce((sum, s) => sum + segmentLength(s), 0);
}

describe('curves as arcs', () => {
  it('are as long as high-order quadrature says of an ellipse', () => {
    const speed = (a: number): number => Math.hypot(300 * Math.sin(a), 120 * Math.cos(a));
    const expected = integral(speed, 0, 2 * Math.PI, 200);
    expect(length(ellipse, 0.02) / expected).toBeCloseTo(1, 4);
    expect(length(ellipse, 0.0001) / expected).toBeCloseTo(1, 7);
  });

  it('are as long as high-order quadrature says of a cubic', () => {
    const expected = integral(bezierSpeed, 0, 1, 200);
    expect(length(bezier, 0.02) / expected).toBeCloseTo(1, 4);
    expect(length(bezier, 0.0001) / expected).toBeCloseTo(1, 7);
  });

  it.each<[string, Curve]>([
    ['an ellipse', ellipse],
    ['a flat ellipse', transformCurve({ a: 1, b: 0, c: 0, d: 0.02, e: 0, f: 0 }, ellipse)],
    ['a cubic', bezier],
    ['a ring through points', throughPoints(ring(9), {}, true)],
  ])('follow %s within the tolerance, everywhere and without a kink', (_, curve) => {
    const trace = traceOf(curve);
    const { segments, deviation, kinkDeg } = fitArcs(trace, 0.018)!;
    expect(kinkDeg).toBeLessThan(0.01);
    let worst = 0;
    const count = 5000;
    for (let i = 0; i <= count; i++) {
      const p = trace.at((trace.end * i) / count);
      worst = Math.max(worst, Math.min(...segments.map((s) => nearestOnSegment(s, p).distance)));
    }
    expect(worst).toBeLessThanOrEqual(0.02);
    // What is reported was found at fewer places, and is near the truth.
    expect(deviation).toBeLessThanOrEqual(worst + 1e-9);
    expect(deviation).toBeGreaterThan(0.8 * worst);
    for (const [i, segment] of segments.slice(1).entries()) {
      expect(distance(segments[i]!.to, segment.from)).toBeLessThan(1e-9);
    }
  });

  it('are one arc each quarter for the circle that a rational quadratic draws', () => {
    // The nine-point circle: weights cos 45 degrees at the corners of the square around it.
    const w = Math.SQRT1_2;
    const corners = [
      [1, 0],
      [1, 1],
      [0, 1],
      [-1, 1],
      [-1, 0],
      [-1, -1],
      [0, -1],
      [1, -1],
      [1, 0],
    ] as const;
    const circle: Spline = {
      kind: 'spline',
      degree: 2,
      knots: [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4],
      points: corners.map(([x, y]) => ({ x: 50 * x, y: 50 * y })),
      weights: corners.map((_, i) => (i % 2 === 0 ? 1 : w)),
    };
    const { segments, deviation } = fitArcs(traceOf(circle), 0.02)!;
    expect(deviation).toBeLessThan(1e-9);
    expect(segments.reduce((sum, s) => sum + segmentLength(s), 0)).toBeCloseTo(100 * Math.PI, 6);
  });

  it('keep the corners that the curve has', () => {
    const corner = {
      kind: 'spline',
      degree: 1,
      knots: [0, 0, 1, 2, 2],
      points: [
        { x: 0, y: 0 },
        { x: 100, y: 0 },
        { x: 100, y: 70 },
      ],
      weights: [1, 1, 1],
    } as const;
    const { segments, kinkDeg } = fitArcs(traceOf(corner), 0.02)!;
    expect(segments.map(({ to }) => to)).toEqual([
      { x: 100, y: 0 },
      { x: 100, y: 70 },
    ]);
    expect(kinkDeg).toBe(0);
  });
});

describe('the curve through points', () => {
  it('passes them all, closed ones with one direction where they close', () => {
    const points = ring(7);
    const trace = traceOf(throughPoints(points, {}, true));
    for (const [i, p] of points.entries()) expect(distance(trace.at(i), p)).toBeLessThan(1e-9);
    const [first, last] = [trace.headingAfter(0), trace.headingBefore(trace.end)];
    expect(distance(first, last)).toBeLessThan(1e-9);
  });

  it('reproduces a parabola’s ends where their directions are given', () => {
    const trace = traceOf(
      throughPoints(
        [
          { x: 0, y: 0 },
          { x: 100, y: 0 },
        ],
        { start: { x: 1, y: 1 }, end: { x: 1, y: -1 } },
        false,
      ),
    );
    // Hermite: speeds of length 100 along both directions, so the top is a quarter of 100 sin 45.
    expect(trace.at(0.5).y).toBeCloseTo((100 * Math.SQRT1_2) / 4, 9);
  });
});

/** Points round a lopsided ring, the first again at the end. */
function ring(count: number): Point[] {
  return Array.from({ length: count + 1 }, (_, i) => {
    const angle = (2 * Math.PI * (i % count)) / count;
    const radius = 200 + 40 * Math.sin(3 * angle);
    return { x: radius * Math.cos(angle), y: 0.6 * radius * Math.sin(angle) };
  });
}
