import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import { circle, pathLength, alongPath, polyline } from '../../../src/geometry/paths/path.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import type { Point } from '../../../src/geometry/paths/point.ts';
import type { Segment } from '../../../src/geometry/paths/segment.ts';
import { pointAt } from '../../../src/geometry/paths/segment.ts';
import { pathSeparation, segmentSeparation } from '../../../src/geometry/relations/separation.ts';
import { transformPath } from '../../../src/geometry/paths/transform.ts';
import { isometry, outline, point } from '../arbitrary.ts';

const segment: fc.Arbitrary<Segment> = fc
  .record({
    from: point,
    to: point,
    bulge: fc.oneof(fc.constant(0), fc.double({ min: -2, max: 2, noNaN: true })),
  })
  .filter(({ from, to, bulge }) => {
    const chord = Math.hypot(to.x - from.x, to.y - from.y);
    return chord > 1 && (bulge === 0 || Math.abs(bulge) > 1e-3);
  });

function movedRight({ from, to, bulge }: Segment, by: number): Segment {
  const moved = (p: Point): Point => ({ x: p.x + by, y: p.y });
  return { from: moved(from), to: moved(to), bulge };
}

/** Points along a segment, close together. */
function samples(one: Segment, count: number): Point[] {
  return Array.from({ length: count + 1 }, (_, i) => pointAt(one, i / count));
}

/** The least distance of sampled points: never less than the true one, and near to it. */
function sampledSeparation(a: Segment, b: Segment): number {
  const path: Path = {
    closed: false,
    vertices: [
      { ...b.from, bulge: b.bulge },
      { ...b.to, bulge: 0 },
    ],
  };
  return Math.min(...samples(a, 2000).map((p) => nearestOnPath(path, p).distance));
}

describe('segmentSeparation', () => {
  it('agrees with the least of many sampled distances', () => {
    fc.assert(
      fc.property(segment, segment, fc.integer({ min: 0, max: 4000 }), (a, near, away) => {
        const b = movedRight(near, away);
        const exact = segmentSeparation(a, b);
        const sampled = sampledSeparation(a, b);
        const step =
          pathLength({
            closed: false,
            vertices: [
              { ...a.from, bulge: a.bulge },
              { ...a.to, bulge: 0 },
            ],
          }) / 2000;
        expect(exact).toBeLessThanOrEqual(sampled + 1e-6);
        expect(exact).toBeGreaterThanOrEqual(sampled - step);
      }),
      { numRuns: 300 },
    );
  });
});

describe('pathSeparation', () => {
  it('of discs: centres apart less the radii, whether beside or inside each other', () => {
    const big = circle({ x: 0, y: 0 }, 100);
    expect(pathSeparation(big, circle({ x: 300, y: 400 }, 50))).toBeCloseTo(500 - 150, 9);
    expect(pathSeparation(big, circle({ x: 30, y: 40 }, 20))).toBeCloseTo(100 - 50 - 20, 9);
    expect(pathSeparation(big, circle({ x: 0, y: 0 }, 20))).toBeCloseTo(80, 9);
    expect(pathSeparation(big, circle({ x: 0, y: 110 }, 20))).toBe(0);
  });

  it('of a side and an arc, and of a corner and a side', () => {
    const side = polyline(
      [
        { x: -500, y: 130 },
        { x: 500, y: 130 },
      ],
      false,
    );
    expect(pathSeparation(side, circle({ x: 7, y: 0 }, 100))).toBeCloseTo(30, 9);
    const corner = polyline(
      [
        { x: 20, y: 300 },
        { x: 0, y: 150 },
        { x: -20, y: 300 },
      ],
      false,
    );
    expect(pathSeparation(side, corner)).toBeCloseTo(20, 9);
  });

  it('is the same from either side, and wherever both are moved together', () => {
    fc.assert(
      fc.property(outline, outline, isometry, (a, b, move) => {
        const apart = pathSeparation(a, b);
        expect(pathSeparation(b, a)).toBeCloseTo(apart, 6);
        expect(pathSeparation(transformPath(move, a), transformPath(move, b))).toBeCloseTo(
          apart,
          5,
        );
      }),
    );
  });

  it('is no more than the distance of any point of one path from the other', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(outline, outline, share, (a, b, t) => {
        const { point: p } = alongPath(a, t * pathLength(a));
        expect(pathSeparation(a, b)).toBeLessThanOrEqual(nearestOnPath(b, p).distance + 1e-6);
      }),
    );
  });

  it('beyond the distance asked for it is Infinity', () => {
    const a = circle({ x: 0, y: 0 }, 10);
    const b = circle({ x: 50, y: 0 }, 10);
    expect(pathSeparation(a, b, 30)).toBe(Infinity);
    expect(pathSeparation(a, b, 30.1)).toBeCloseTo(30, 9);
  });
});
