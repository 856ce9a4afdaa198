import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Segment } from '../../../src/geometry/paths/segment.ts';
import {
  arcOf,
  boxOfSegment,
  nearestOnSegment,
  partOfSegment,
  pointAt,
  segmentLength,
  sweepOf,
  tangentAt,
} from '../../../src/geometry/paths/segment.ts';
import { distance, dot, minus } from '../../../src/geometry/paths/point.ts';
import { point } from '../arbitrary.ts';

const chord100 = (bulge: number): Segment => ({
  from: { x: 0, y: 0 },
  to: { x: 100, y: 0 },
  bulge,
});

const segment: fc.Arbitrary<Segment> = fc
  .record({ from: point, to: point, bulge: fc.double({ min: -3, max: 3, noNaN: true }) })
  .filter(({ from, to, bulge }) => distance(from, to) > 1 && Math.abs(bulge) > 0.01);

describe('bulges', () => {
  // DXF group 42: bulge = tan(sweep / 4), R = c (1 + b^2) / (4 |b|) [S, DXF reference]; figures [D].
  it('b 0.57735 on a chord of 100 is 120 degrees, R 57.735, length 120.920', () => {
    const s = chord100(Math.tan(Math.PI / 6));
    expect((sweepOf(0.57735) * 180) / Math.PI).toBeCloseTo(120, 3);
    expect(arcOf(s).radius).toBeCloseTo(57.735, 3);
    expect(segmentLength(s)).toBeCloseTo(120.92, 3);
  });

  it('b 0.41421356 on a chord of 100 is a quarter circle of R 70.7107, length 111.0721', () => {
    const s = chord100(0.41421356);
    expect(arcOf(s).radius).toBeCloseTo(70.7107, 4);
    expect(segmentLength(s)).toBeCloseTo(111.0721, 4);
  });

  it('a positive bulge runs counter-clockwise: the arc lies right of its chord', () => {
    expect(pointAt(chord100(1), 0.5).y).toBeCloseTo(-50, 9);
    expect(pointAt(chord100(-1), 0.5).y).toBeCloseTo(50, 9);
  });
});

describe('laws of arcs', () => {
  it('every point of an arc is a radius from its centre, and its tangent is square to that radius', () => {
    fc.assert(
      fc.property(segment, fc.double({ min: 0, max: 1, noNaN: true }), (s, t) => {
        const { centre, radius } = arcOf(s);
        const p = pointAt(s, t);
        expect(distance(p, centre) / radius).toBeCloseTo(1, 9);
        expect(dot(tangentAt(s, t), minus(p, centre)) / radius).toBeCloseTo(0, 6);
      }),
    );
  });

  it('parts of an arc add up to it and stay on it', () => {
    fc.assert(
      fc.property(segment, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (s, t) => {
        const [first, second] = [partOfSegment(s, 0, t), partOfSegment(s, t, 1)];
        const sum = segmentLength(first) + segmentLength(second);
        expect(sum / segmentLength(s)).toBeCloseTo(1, 9);
        expect(distance(pointAt(first, 0.5), pointAt(s, t / 2))).toBeLessThan(1e-6);
      }),
    );
  });

  it('the nearest point is no further than any sampled one', () => {
    fc.assert(
      fc.property(segment, point, (s, p) => {
        const nearest = nearestOnSegment(s, p);
        for (let i = 0; i <= 50; i++) {
          expect(distance(pointAt(s, i / 50), p)).toBeGreaterThan(nearest.distance - 1e-6);
        }
      }),
    );
  });

  it('the box holds every point and is touched on each side', () => {
    fc.assert(
      fc.property(segment, (s) => {
        const box = boxOfSegment(s);
        const points = Array.from({ length: 401 }, (_, i) => pointAt(s, i / 400));
        const slack = arcOf(s).radius * 1e-4;
        const xs = points.map(({ x }) => x);
        const ys = points.map(({ y }) => y);
        expect(Math.abs(Math.min(...xs) - box.minX)).toBeLessThan(slack);
        expect(Math.abs(Math.max(...xs) - box.maxX)).toBeLessThan(slack);
        expect(Math.abs(Math.min(...ys) - box.minY)).toBeLessThan(slack);
        expect(Math.abs(Math.max(...ys) - box.maxY)).toBeLessThan(slack);
      }),
    );
  });
});
