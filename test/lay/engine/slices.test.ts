import fc from 'fast-check';
import polygonClipping from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { circle, polyline } from '../../../src/geometry/paths/path.ts';
import type { Point } from '../../../src/geometry/paths/point.ts';
import { areaOf } from '../../../src/geometry/paths/area.ts';
import { flatten } from '../../../src/geometry/paths/flatten.ts';
import { rounded } from '../../../src/base/numbers.ts';
import type { Slices } from '../../../src/lay/engine/slices.ts';
import { forbiddenShifts, slicesOf } from '../../../src/lay/engine/slices.ts';
import { outline } from '../../geometry/arbitrary.ts';

type Contours = readonly (readonly Point[])[];

function oblong(x0: number, y0: number, x1: number, y1: number): Point[] {
  return [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ];
}

function shifts(fixed: Contours, moving: Contours, dy: number): readonly number[] {
  return forbiddenShifts(slicesOf(fixed), slicesOf(moving), dy);
}

/** mm2 that two shapes share, by a library of its own; it fails on edges all but upright, so on a grid. */
function commonArea(fixed: Contours, moving: Contours, dx: number, dy: number): number {
  const rings = (contours: Contours, x: number, y: number): [number, number][][] =>
    contours.map((points) => points.map((p) => [rounded(p.x + x, 6), rounded(p.y + y, 6)]));
  const common = polygonClipping.intersection(rings(fixed, 0, 0), rings(moving, dx, dy));
  const areas = common.map(([outer, ...holes]) =>
    holes.reduce((left, hole) => left - ringArea(hole), ringArea(outer!)),
  );
  return areas.reduce((sum, area) => sum + area, 0);
}

function ringArea(ring: readonly [number, number][]): number {
  return areaOf(
    polyline(
      ring.map(([x, y]) => ({ x, y })),
      true,
    ),
  );
}

/** Area in each slab is mean chord x height: what the slices hold. */
function slicedArea({ heights, first, chords }: Slices): number {
  let area = 0;
  for (let k = 0; k + 1 < heights.length; k++) {
    const h = heights[k + 1]! - heights[k]!;
    for (let i = first[k]!; i < first[k + 1]!; i++) {
      const [left, leftRun, right, rightRun] = chords.subarray(4 * i, 4 * i + 4);
      area += h * (right! - left! + ((rightRun! - leftRun!) * h) / 2);
    }
  }
  return area;
}

/** An outline, at times with a hole, its middle near the origin. */
const shape: fc.Arbitrary<Contours> = fc
  .tuple(outline, fc.option(fc.double({ min: 10, max: 100, noNaN: true }), { nil: null }))
  .map(([path, radius]) => {
    const points = flatten(path, 1);
    const mean = (pick: (p: Point) => number): number =>
      path.vertices.reduce((sum, p) => sum + pick(p), 0) / path.vertices.length;
    const middle = { x: mean((p) => p.x), y: mean((p) => p.y) };
    const contours = radius === null ? [points] : [points, flatten(circle(middle, radius), 1)];
    return contours.map((contour) =>
      contour.map(({ x, y }) => ({ x: x - middle.x, y: y - middle.y })),
    );
  });

describe('slicesOf', () => {
  it('holds the area of the outline less its holes', () => {
    fc.assert(
      fc.property(shape, (contours) => {
        const [outer, ...holes] = contours.map((points) => areaOf(polyline(points, true)));
        const area = holes.reduce((left, hole) => left - hole, outer!);
        expect(slicedArea(slicesOf(contours))).toBeCloseTo(area, 3);
      }),
    );
  });
});

describe('forbiddenShifts', () => {
  it('two oblongs side by side forbid less than touching', () => {
    expect(shifts([oblong(0, 0, 100, 50)], [oblong(0, 0, 30, 50)], 0)).toEqual([-30, 100]);
    expect(shifts([oblong(0, 0, 100, 50)], [oblong(0, 0, 30, 50)], 50)).toEqual([]);
    expect(shifts([oblong(0, 0, 100, 50)], [oblong(0, 0, 30, 50)], 49.9)).toEqual([-30, 100]);
  });

  it('a hole that a part fills exactly lets it in at one place', () => {
    const frame = [oblong(0, 0, 100, 100), oblong(30, 30, 70, 70)];
    expect(shifts(frame, [oblong(0, 0, 40, 40)], 30)).toEqual([-40, 30, 30, 100]);
    expect(shifts(frame, [oblong(0, 0, 30, 40)], 30)).toEqual([-30, 30, 40, 100]);
    expect(shifts(frame, [oblong(0, 0, 40, 40)], 29)).toEqual([-40, 100]);
  });

  it('slanted sides: the hull over the common heights', () => {
    // Two right triangles with the same slope: the lower one's hypotenuse runs along the upper one's.
    const low = [
      { x: 0, y: 0 },
      { x: 40, y: 0 },
      { x: 0, y: 40 },
    ];
    const high = [
      { x: 40, y: 0 },
      { x: 40, y: 40 },
      { x: 0, y: 40 },
    ];
    expect(shifts([low], [high], 0)).toEqual([-40, 0]);
    expect(shifts([low], [high], 10)).toEqual([-40, -10]);
  });

  it('agrees with the area that the shapes share: none outside, some inside', () => {
    const seen = { inside: 0, outside: 0 };
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    const height = fc.double({ min: -700, max: 700, noNaN: true });
    fc.assert(
      fc.property(shape, shape, height, share, (fixed, moving, dy, t) => {
        const intervals = shifts(fixed, moving, dy);
        const ends = [-2000, ...intervals, 2000];
        for (let i = 0; i + 1 < ends.length; i++) {
          const [low, high] = [ends[i]!, ends[i + 1]!];
          expect(high).toBeGreaterThanOrEqual(low);
          if (high - low < 0.01) continue;
          const dx = low + 0.005 + (high - low - 0.01) * t;
          const area = commonArea(fixed, moving, dx, dy);
          const isForbidden = i % 2 === 1;
          seen[isForbidden ? 'inside' : 'outside']++;
          if (isForbidden) expect(area).toBeGreaterThan(0);
          else expect(area).toBeLessThan(1e-6);
        }
      }),
      { numRuns: 200 },
    );
    expect(Math.min(seen.inside, seen.outside)).toBeGreaterThan(50);
  });

  it('is the same seen from the other shape', () => {
    fc.assert(
      fc.property(shape, shape, fc.double({ min: -700, max: 700, noNaN: true }), (a, b, dy) => {
        const there = shifts(a, b, dy);
        const back = shifts(b, a, -dy)
          .map((dx) => -dx)
          .reverse();
        expect(back.length).toBe(there.length);
        for (const [i, dx] of there.entries()) expect(back[i]!).toBeCloseTo(dx, 6);
      }),
    );
  });
});
