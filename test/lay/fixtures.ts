import fc from 'fast-check';
import type { Path } from '../../src/geometry/paths/path.ts';
import { circle, polyline } from '../../src/geometry/paths/path.ts';
import type { Point } from '../../src/geometry/paths/point.ts';
import type { Part } from '../../src/handing/part.ts';
import type { LayRules, Roll } from '../../src/lay/lay.ts';
import { outline } from '../geometry/arbitrary.ts';
import { part } from '../knife/sample-parts.ts';

export const material = 'carpet';

/** A part that is its cut contour and what is cut out of it; `more` says what else matters. */
export function partOf(
  label: string,
  cut: Path,
  inner: readonly Path[] = [],
  more: Partial<Part> = {},
): Part {
  return part(label, cut, {
    order: 'order',
    material,
    inner: inner.map((path) => ({ role: 'CUTOUT', path })),
    edges: [],
    pileDeg: 90,
    ...more,
  });
}

/** From (x, y) to the right and up. */
export function oblong(width: number, height: number, x = 0, y = 0): Path {
  const corners = [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ];
  return polyline(corners, true);
}

export const roll: Roll = { width: 2000, selvedge: 25, startMargin: 40, length: Infinity };

export const plainRules: LayRules = { turns: 'one-way', gap: 0, biteLength: Infinity };

export const turns = fc.constantFrom<LayRules['turns'][]>('one-way', 'two-way', 'any');

/** A radius that a cutout about the centre of an outline may have: its corners are 200 and more away. */
const cutoutRadius = fc.double({ min: 20, max: 110, noNaN: true });

/** Centres of outlines lie anywhere: the cutout goes about the mean of the corners. */
function centreOf({ vertices }: Path): { x: number; y: number } {
  const mean = (pick: (v: { x: number; y: number }) => number): number =>
    vertices.reduce((sum, vertex) => sum + pick(vertex), 0) / vertices.length;
  return { x: mean(({ x }) => x), y: mean(({ y }) => y) };
}

/** Two to nine parts of one to four kinds, some with a round cutout in which others find room. */
export const someParts: fc.Arbitrary<Part[]> = fc
  .array(
    fc.record({
      cut: outline,
      cutout: fc.option(cutoutRadius, { nil: null }),
      pileDeg: fc.constantFrom(null, 0, 90, 37.5),
      copies: fc.integer({ min: 1, max: 3 }),
      small: fc.boolean(),
    }),
    { minLength: 1, maxLength: 4 },
  )
  .map((kinds) =>
    kinds.flatMap(({ cut, cutout, pileDeg, copies, small }, k) => {
      const path = small ? shrunk(cut) : cut;
      const inner = small || cutout === null ? [] : [circle(centreOf(cut), cutout)];
      return Array.from({ length: copies }, (_, i) =>
        partOf(`k${k}.${i + 1}`, path, inner, { pileDeg }),
      );
    }),
  );

function shrunk({ closed, vertices }: Path): Path {
  return { closed, vertices: vertices.map(({ x, y, bulge }) => ({ x: x / 6, y: y / 6, bulge })) };
}

function polar(x: number, y: number, radii: readonly number[]): Point[] {
  return radii.map((radius, i) => {
    const angle = (2 * Math.PI * i) / radii.length;
    return { x: x + radius * Math.cos(angle), y: y + radius * Math.sin(angle) };
  });
}

/** A star about a point near the start of the roll, of either way round. */
const defect: fc.Arbitrary<Point[]> = fc
  .record({
    x: fc.double({ min: 0, max: 1500, noNaN: true }),
    y: fc.double({ min: 0, max: 2000, noNaN: true }),
    radii: fc.array(fc.double({ min: 5, max: 200, noNaN: true }), { minLength: 3, maxLength: 9 }),
    reversed: fc.boolean(),
  })
  .map(({ x, y, radii, reversed }) => {
    const points = polar(x, y, radii);
    return reversed ? points.toReversed() : points;
  });

export const defects = fc.array(defect, { maxLength: 4 });

const edgeDepths = fc.array(fc.double({ min: 0, max: 250, noNaN: true }), {
  minLength: 2,
  maxLength: 8,
});

/** A remnant of about 6000 mm with crooked edges along the roll and slanting ends. */
export const remnant: fc.Arbitrary<Point[]> = fc
  .tuple(edgeDepths, edgeDepths)
  .map(([near, far]) => {
    const along = (i: number, count: number): number => 80 + (5920 * i) / (count - 1);
    return [
      ...near.map((y, i) => ({ x: along(i, near.length), y })),
      ...far.map((y, i) => ({ x: along(i, far.length), y: 2000 - y })).reverse(),
    ];
  });
