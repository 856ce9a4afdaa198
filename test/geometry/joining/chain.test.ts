import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf } from '../../../src/geometry/paths/area.ts';
import { chained } from '../../../src/geometry/joining/chain.ts';
import { repeats } from '../../../src/geometry/joining/duplicates.ts';
import { between, distance } from '../../../src/geometry/paths/point.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import {
  pathLength,
  pathOf,
  polyline,
  reversePath,
  segmentsOf,
} from '../../../src/geometry/paths/path.ts';
import { refitted } from '../../../src/geometry/curves/refit.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';

/** 300 x 200 with one side an arc of 90 degrees: area 60000 and a segment over a chord of 200. */
const outline: Path = {
  closed: true,
  vertices: [
    { x: 0, y: 0, bulge: 0 },
    { x: 300, y: 0, bulge: Math.tan(Math.PI / 8) },
    { x: 300, y: 200, bulge: 0 },
    { x: 0, y: 200, bulge: 0 },
  ],
};
/** R2/2 (a - sin a) with R = 100 sqrt 2, a = 90 degrees. */
const area = 60_000 + 10_000 * (Math.PI / 2 - 1);

function pieces(path: Path, gap: number): Path[] {
  return segmentsOf(path).map(({ from, to, bulge }) => ({
    closed: false,
    vertices: [
      { ...from, bulge },
      { x: to.x + gap, y: to.y, bulge: 0 },
    ],
  }));
}

describe('loose lines', () => {
  it('become the outline they were, in any order and whichever way they run', () => {
    const all = [0, 1, 2, 3];
    const orders = fc.shuffledSubarray(all, { minLength: 4 });
    const turns = fc.array(fc.boolean(), { minLength: 4, maxLength: 4 });
    fc.assert(
      fc.property(orders, turns, (order, turned) => {
        const loose = pieces(outline, 0);
        const drawn = order.map((i) => (turned[i] ? reversePath(loose[i]!) : loose[i]!));
        const { chains, branches } = chained(drawn, 0.05);
        const gaps = chains.flatMap((chain) => chain.gaps);
        expect(chains.length).toBe(1);
        expect(chains[0]!.path.closed).toBe(true);
        expect(areaOf(chains[0]!.path)).toBeCloseTo(area, 6);
        expect({ gaps, branches }).toEqual({ gaps: [], branches: [] });
      }),
    );
  });

  it('are joined over small gaps, each told with its place and size', () => {
    const { chains } = chained(pieces(outline, 0.03), 0.05);
    const gaps = chains.flatMap((chain) => chain.gaps);
    expect(chains.map(({ path }) => path.closed)).toEqual([true]);
    expect(gaps.length).toBe(4);
    for (const { size } of gaps) expect(size).toBeCloseTo(0.03, 9);
    expect(gaps.map(({ at }) => [Math.round(at.x), Math.round(at.y)])).toContainEqual([300, 200]);
  });

  it('that are straight and end short of a corner, or beyond it, are taken to the corner', () => {
    const corners = [
      { x: 0, y: 0 },
      { x: 560, y: 0 },
      { x: 540, y: 260 },
      { x: 5, y: 240 },
    ];
    const missing = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
      minLength: 8,
      maxLength: 8,
    });
    fc.assert(
      fc.property(missing, (by) => {
        const lines = corners.map((from, i) => {
          const to = corners[(i + 1) % 4]!;
          const length = distance(from, to);
          const ends = [by[2 * i]! / length, 1 - by[2 * i + 1]! / length];
          return polyline(
            ends.map((share) => between(from, to, share)),
            false,
          );
        });
        const { chains } = chained(lines, 2);
        expect(chains.length).toBe(1);
        for (const [i, { x, y }] of chains[0]!.path.vertices.entries()) {
          expect([x, y]).toEqual([
            expect.closeTo(corners[i]!.x, 6),
            expect.closeTo(corners[i]!.y, 6),
          ]);
        }
      }),
    );
  });

  it('that are nearly one line are joined half way: their corner may be far off', () => {
    const line = (points: [number, number][]): Path =>
      polyline(
        points.map(([x, y]) => ({ x, y })),
        false,
      );
    const [left, right] = [
      line([
        [0, 0],
        [100, 0],
      ]),
      line([
        [101, 0.4],
        [200, 0.41],
      ]),
    ];
    const { chains } = chained([left, right], 2);
    expect(chains[0]!.path.vertices[1]).toMatchObject({ x: 100.5, y: 0.2 });
  });

  it('stay open where the gap is wider', () => {
    const { chains } = chained(pieces(outline, 0.06), 0.05);
    const gaps = chains.flatMap((chain) => chain.gaps);
    expect(chains.length).toBe(4);
    expect(gaps).toEqual([]);
  });

  it('are not joined where three ends meet, and the place is told', () => {
    const third = polyline(
      [
        { x: 300, y: 200 },
        { x: 500, y: 500 },
      ],
      false,
    );
    const { chains, branches } = chained([...pieces(outline, 0), third], 0.05);
    expect(branches).toEqual([{ x: 300, y: 200 }]);
    expect(chains.every(({ path }) => !path.closed)).toBe(true);
    // Nothing is lost or cut.
    const length = chains.reduce((sum, { path }) => sum + pathLength(path), 0);
    expect(length).toBeCloseTo(pathLength(outline) + Math.hypot(200, 300), 6);
  });

  it('are not joined where one end has two within reach that have not each other', () => {
    const ray = (x: number, y: number, up: number): Path =>
      polyline(
        [
          { x, y },
          { x, y: y + up },
        ],
        false,
      );
    const rays = [ray(0, 0, 100), ray(0.04, 0, -100), ray(0.08, 0, 100)];
    const { chains, branches } = chained(rays, 0.05);
    expect(chains.length).toBe(3);
    expect(branches.length).toBe(1);
  });

  it('shorter than the gap that nothing meets are left out and counted', () => {
    const bit = polyline(
      [
        { x: 900, y: 0 },
        { x: 900.02, y: 0 },
      ],
      false,
    );
    const { chains, slivers } = chained([...pieces(outline, 0), bit], 0.05);
    expect(slivers).toEqual([4]);
    expect(chains.length).toBe(1);
  });

  it('of many steps shorter than the gap are kept', () => {
    const steps = Array.from({ length: 100 }, (_, i) =>
      polyline(
        [
          { x: i * 0.02, y: 0 },
          { x: (i + 1) * 0.02, y: 0 },
        ],
        false,
      ),
    );
    const { chains, slivers } = chained(steps, 0.05);
    expect(slivers).toEqual([]);
    expect(chains.length).toBe(1);
    expect(pathLength(chains[0]!.path)).toBeCloseTo(2, 9);
  });
});

describe('what is drawn twice', () => {
  const later = {
    closed: true,
    vertices: [...outline.vertices.slice(2), ...outline.vertices.slice(0, 2)],
  };
  const segments = segmentsOf(outline);
  const finer = pathOf(
    [
      ...segments.slice(0, 3),
      { ...segments[3]!, to: { x: 0, y: 90 } },
      { ...segments[3]!, from: { x: 0, y: 90 } },
    ],
    true,
  );
  it.each([
    ['again', outline],
    ['backwards', reversePath(outline)],
    ['from another start', later],
    ['backwards from another start', reversePath(later)],
    ['with one more vertex', finer],
    [
      'to four decimals',
      { ...outline, vertices: outline.vertices.map((v) => ({ ...v, x: v.x + 0.00004 })) },
    ],
  ])('is found %s', (_, other) => {
    expect(repeats([outline, other])).toEqual([1]);
  });

  it.each([
    [
      'moved by a tenth',
      { ...outline, vertices: outline.vertices.map((v) => ({ ...v, x: v.x + 0.1 })) },
    ],
    [
      'with its arc the other way',
      { ...outline, vertices: outline.vertices.map((v) => ({ ...v, bulge: -v.bulge })) },
    ],
    ['open', { closed: false, vertices: outline.vertices }],
    [
      'with a corner cut off',
      {
        ...outline,
        vertices: [
          { x: 5, y: 0, bulge: 0 },
          ...outline.vertices.slice(1),
          { x: 0, y: 5, bulge: 0 },
        ],
      },
    ],
  ])('is not what is %s', (_, other) => {
    expect(repeats([outline, other])).toEqual([]);
  });
});

describe('a digitised outline', () => {
  /** A slot of two half circles and two lines, points every half millimetre. */
  const slot: Path = {
    closed: true,
    vertices: [
      { x: 0, y: 0, bulge: 0 },
      { x: 400, y: 0, bulge: 1 },
      { x: 400, y: 160, bulge: 0 },
      { x: 0, y: 160, bulge: 1 },
    ],
  };
  const points = Array.from({ length: 2600 }, (_, i) => {
    const length = pathLength(slot);
    let left = (length * i) / 2600;
    for (const segment of segmentsOf(slot)) {
      const own = pathLength(pathOf([segment], false));
      if (left < own) {
        const angle = -Math.PI / 2 + (Math.PI * left) / own;
        if (segment.bulge === 0) {
          const t = left / own;
          return { x: segment.from.x + (segment.to.x - segment.from.x) * t, y: segment.from.y };
        }
        const side = segment.from.x > 200 ? 1 : -1;
        return {
          x: (side > 0 ? 400 : 0) + side * 80 * Math.cos(angle),
          y: 80 + side * 80 * Math.sin(angle),
        };
      }
      left -= own;
    }
    return { x: 0, y: 0 };
  });
  const digitised = polyline(points, true);

  it.each([0.02, 0.1, 0.5])('is few lines and arcs within %f mm', (tolerance) => {
    const { path, deviation } = refitted(digitised, tolerance);
    expect(path.vertices.length).toBeLessThan(14);
    expect(deviation).toBeLessThanOrEqual(tolerance);
    const worst = points.reduce((most, p) => Math.max(most, nearestOnPath(path, p).distance), 0);
    expect(worst).toBeLessThanOrEqual(tolerance + 1e-9);
    // The slot itself: 400 x 160 and a circle of radius 80.
    const exact = 64_000 + Math.PI * 6400;
    expect(Math.abs(areaOf(path) - exact)).toBeLessThan(tolerance * pathLength(slot));
  });

  it('keeps its corners', () => {
    const side = Array.from({ length: 50 }, (_, i) => i * 2);
    const square = polyline(
      [
        ...side.map((s) => ({ x: s, y: 0 })),
        ...side.map((s) => ({ x: 100, y: s })),
        ...side.map((s) => ({ x: 100 - s, y: 100 })),
        ...side.map((s) => ({ x: 0, y: 100 - s })),
      ],
      true,
    );
    const { path, deviation } = refitted(square, 0.1);
    expect(path.vertices.map(({ x, y }) => [x, y]).sort()).toEqual([
      [0, 0],
      [0, 100],
      [100, 0],
      [100, 100],
    ]);
    expect(deviation).toBeLessThan(1e-9);
  });
});
