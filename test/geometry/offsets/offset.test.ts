import { areaD, EndType, FillRule, inflatePathsD, intersectD, JoinType } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf, isCounterClockwise } from '../../../src/geometry/paths/area.ts';
import { selfCrossings } from '../../../src/geometry/relations/crossings.ts';
import { flatten } from '../../../src/geometry/paths/flatten.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import { offsetPath } from '../../../src/geometry/offsets/offset.ts';
import { circle, pathLength, polyline } from '../../../src/geometry/paths/path.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import type { Point } from '../../../src/geometry/paths/point.ts';
import { shapely } from '../../lay/shapely.ts';
import { outline } from '../arbitrary.ts';

const oblong = polyline(
  [
    { x: 0, y: 0 },
    { x: 100, y: 0 },
    { x: 100, y: 50 },
    { x: 0, y: 50 },
  ],
  true,
);

describe('offsetPath', () => {
  // 100 x 50 moved out by 10 with mitred corners: area 8400, perimeter 380 [D]. Rounded corners would give
  // 8314.159 and 362.832 [D]; a knife is not asked for them, and they are not made.
  it('mitres the corners of an oblong', () => {
    const out = offsetPath(oblong, [10, 10, 10, 10], 2);
    expect(areaOf(out)).toBeCloseTo(8400, 9);
    expect(pathLength(out)).toBeCloseTo(380, 9);
  });

  // Each side its own amount: (100 + 20 + 5) x (50 + 10 + 30) by hand.
  it('moves each side by its own amount', () => {
    expect(areaOf(offsetPath(oblong, [10, 20, 30, 5], 4))).toBeCloseTo(125 * 90, 9);
  });

  it('ends a wide allowance flush with the edge beside it that has none', () => {
    const out = offsetPath(oblong, [30, 0, 0, 0], 2);
    expect(areaOf(out)).toBeCloseTo(100 * 80, 9);
    expect(out.vertices.length).toBe(4);
  });

  it('steps where amounts differ along a straight run', () => {
    const split = polyline(
      [
        { x: 0, y: 0 },
        { x: 60, y: 0 },
        { x: 100, y: 0 },
        { x: 100, y: 50 },
        { x: 0, y: 50 },
      ],
      true,
    );
    expect(areaOf(offsetPath(split, [10, 0, 0, 0, 0], 2))).toBeCloseTo(5000 + 600, 9);
  });

  it('keeps circles circles', () => {
    const out = offsetPath(circle({ x: 0, y: 0 }, 40), [10, 10], 2);
    expect(areaOf(out)).toBeCloseTo(Math.PI * 2500, 8);
  });

  it('passes over a hollow arc whose radius is used up', () => {
    // An inside corner of radius 5 in an L; moved out by 10 it must become a sharp inside corner.
    const b = -Math.tan(Math.PI / 8);
    const ell = {
      closed: true,
      vertices: [
        [0, 0, 0],
        [100, 0, 0],
        [100, 40, 0],
        [45, 40, b],
        [40, 45, 0],
        [40, 100, 0],
        [0, 100, 0],
      ].map(([x, y, bulge]) => ({ x: x!, y: y!, bulge: bulge! })),
    };
    const out = offsetPath(
      ell,
      ell.vertices.map(() => 10),
      3,
    );
    expect(selfCrossings(out)).toEqual([]);
    expect(areaOf(out)).toBeCloseTo(120 * 60 + 60 * 60, 6);
  });

  // A square of 100 with one corner cut off by 5 x 5, drawn in by 20: the cut is gone, 60 x 60 are left.
  it('passes over a short side that its neighbours leave nothing of', () => {
    const corners = [
      [0, 0],
      [95, 0],
      [100, 5],
      [100, 100],
      [0, 100],
    ];
    const square = polyline(
      corners.map(([x, y]) => ({ x: x!, y: y! })),
      true,
    );
    const small = offsetPath(square, [-20, -20, -20, -20, -20], 2);
    expect(selfCrossings(small)).toEqual([]);
    expect(areaOf(small)).toBeCloseTo(3600, 9);
  });

  it('cuts off corners sharper than the mitre limit', () => {
    const needle = polyline(
      [
        { x: 0, y: 0 },
        { x: 200, y: -10 },
        { x: 200, y: 10 },
      ],
      true,
    );
    const out = offsetPath(needle, [5, 5, 5], 2);
    // The two square corners are mitred, the tip is cut off: four corners, all moved, none further than the limit.
    expect(out.vertices).toHaveLength(4);
    for (const vertex of out.vertices) {
      const { distance } = nearestOnPath(needle, vertex);
      expect(distance).toBeGreaterThan(5 - 1e-9);
      expect(distance).toBeLessThan(10.001);
    }
  });

  it('is undone by the opposite offset', () => {
    let undone = 0;
    fc.assert(
      fc.property(outline, fc.double({ min: 1, max: 10, noNaN: true }), (path, amount) => {
        const amounts = path.vertices.map(() => amount);
        const out = offsetPath(path, amounts, 20);
        // At the least by a strip along the whole outline.
        expect(areaOf(out)).toBeGreaterThan(areaOf(path) + amount * pathLength(path));
        if (out.vertices.length !== path.vertices.length) return;
        undone++;
        const back = offsetPath(
          out,
          amounts.map((a) => -a),
          20,
        );
        expect(areaOf(back) / areaOf(path)).toBeCloseTo(1, 6);
      }),
    );
    expect(undone).toBeGreaterThan(10);
  });

  // [D] 50 and then 20 wide along one straight run, so nearly straight that the lines, 30 apart, would meet
  // 30 / sin 2 deg = 860 mm further on.
  it.each([2, -2])('steps where amounts differ along a run that turns by %d degrees', (deg) => {
    const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
    const path = polyline(
      [
        { x: 0, y: 0 },
        { x: 300, y: 0 },
        { x: 300 + 300 * c, y: 300 * s },
        { x: 300 + 300 * c, y: 400 },
        { x: 0, y: 400 },
      ],
      true,
    );
    const out = offsetPath(path, [50, 20, 0, 0, 0], 2);
    expect(selfCrossings(out)).toEqual([]);
    const expected = [
      [300, -50],
      [300 + 20 * s, -20 * c],
    ];
    for (const [x, y] of expected) {
      expect(nearestOnPath(out, { x: x!, y: y! }).distance).toBeLessThan(1e-9);
      expect(out.vertices.some((v) => Math.hypot(v.x - x!, v.y - y!) < 1e-9)).toBe(true);
    }
  });

  // A drawing's tangents are good to its own rounding: a run that bends inwards by a few thousandths of a
  // degree must not come out with a loop.
  it('does not loop where a run is nearly smooth', () => {
    for (const off of [1e-5, -1e-5, 1e-3, -1e-3, 0.05, -0.05]) {
      const path = polyline(
        [
          { x: 0, y: 0 },
          { x: 150, y: off },
          { x: 300, y: 0 },
          { x: 300, y: 200 },
          { x: 0, y: 200 },
        ],
        true,
      );
      const out = offsetPath(path, [25, 25, 25, 25, 25], 2);
      expect(selfCrossings(out)).toEqual([]);
      expect(Math.abs(areaOf(out) - 350 * 250)).toBeLessThan(20);
    }
  });
});

const tenths = fc
  .integer({ min: -250, max: 250 })
  .filter((n) => n !== 0)
  .map((n) => n / 10);

/** Outlines with one amount, in and out; those that the offset would cross are no question of area. */
function soundOffsets(outlines: fc.Arbitrary<Path>) {
  return fc
    .tuple(outlines, tenths)
    .map(([path, amount]) => ({ path, amount, out: offsetAll(path, amount) }))
    .filter(({ out }) => selfCrossings(out).length === 0);
}

function offsetAll(path: Path, amount: number): Path {
  return offsetPath(
    path,
    path.vertices.map(() => amount),
    20,
  );
}

const straight = outline.map(({ vertices }) => polyline(vertices, true));

/**
 * At a corner with an arc the cut line goes on along the arc's circle; a referee, which sees chords, goes
 * on straight. Along 25 mm of a circle of 200 that is up to 1.5 mm aside: a few parts in ten thousand.
 */
const ofOutlines = [
  ['straight outlines', soundOffsets(straight), 6],
  ['outlines with arcs', soundOffsets(outline), 3],
] as const;

describe.each(ofOutlines)('referees of one amount, on %s', (_, sound, decimals) => {
  it('clipper2: mitred inflation has the same area', () => {
    fc.assert(
      fc.property(sound, ({ path, amount, out }) => {
        expect(isCounterClockwise(out)).toBe(true);
        const flat = flatten(path, 0.002);
        const grown = inflatePathsD([flat], amount, JoinType.Miter, EndType.Polygon, 20, 6);
        const expected = grown.reduce((sum, ring) => sum + Math.abs(areaD(ring)), 0);
        expect(areaOf(out) / expected).toBeCloseTo(1, decimals);
      }),
    );
  });

  it.skipIf(shapely.missing)(
    `shapely: a mitred buffer has the same area and perimeter${shapely.note}`,
    () => {
      const cases = fc.sample(sound, { numRuns: 100, seed: 7 });
      const answers = shapelyBuffers(
        cases.map(({ path, amount }) => ({ ring: flatten(path, 0.002), amount })),
      );
      expect(answers).toHaveLength(cases.length);
      for (const [i, { out }] of cases.entries()) {
        expect(areaOf(out) / answers[i]!.area).toBeCloseTo(1, decimals);
        expect(pathLength(out) / answers[i]!.length).toBeCloseTo(1, decimals - 1);
      }
    },
  );
});

const script = `
import json, sys
from shapely.geometry import JOIN_STYLE, Polygon

def answer(case):
    grown = Polygon(case['ring']).buffer(case['amount'], join_style=JOIN_STYLE.mitre, mitre_limit=20)
    return dict(area=grown.area, length=grown.exterior.length)

print(json.dumps([answer(case) for case in json.load(sys.stdin)]))
`;

interface Buffered {
  readonly area: number;
  readonly length: number;
}

function shapelyBuffers(cases: readonly { ring: readonly Point[]; amount: number }[]): Buffered[] {
  const input = cases.map(({ ring, amount }) => ({ amount, ring: ring.map(({ x, y }) => [x, y]) }));
  return shapely.ask(script, input) as Buffered[];
}

describe('a referee of mixed amounts', () => {
  /** Corners on a circle of 300, so that the outline is convex. */
  const convex = fc
    .array(fc.integer({ min: 3, max: 10 }), { minLength: 3, maxLength: 9 })
    .map((gaps) => {
      const whole = gaps.reduce((sum, gap) => sum + gap, 0);
      let turned = 0;
      return polyline(
        gaps.map((gap) => {
          turned += (2 * Math.PI * gap) / whole;
          return { x: 300 * Math.cos(turned), y: 300 * Math.sin(turned) };
        }),
        true,
      );
    });
  const amounts = fc.array(fc.integer({ min: -20, max: 40 }), { minLength: 9, maxLength: 9 });

  // A convex outline is what lies to the left of each of its sides; moving a side moves that half of the plane.
  it('half planes: the offset is what lies to the left of every moved side', () => {
    fc.assert(
      fc.property(convex, amounts, (path, some) => {
        const out = offsetPath(path, some.slice(0, path.vertices.length), 1000);
        const meant = path.vertices.reduce<Point[][]>(
          (left, from, i) => {
            const to = path.vertices[(i + 1) % path.vertices.length]!;
            return intersectD(left, [leftOfMoved(from, to, some[i]!)], FillRule.NonZero, 4);
          },
          [squareOf(3000)],
        );
        expect(areaOf(out) / meant.reduce((sum, ring) => sum + areaD(ring), 0)).toBeCloseTo(1, 5);
      }),
    );
  });
});

function squareOf(half: number): Point[] {
  return [
    { x: -half, y: -half },
    { x: half, y: -half },
    { x: half, y: half },
    { x: -half, y: half },
  ];
}

function leftOfMoved(from: Point, to: Point, amount: number): Point[] {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const [x, y] = [from.x + uy * amount, from.y - ux * amount];
  const far = 9000;
  const at = (along: number, across: number): Point => ({
    x: x + ux * along - uy * across,
    y: y + uy * along + ux * across,
  });
  return [at(-far, 0), at(far, 0), at(far, far), at(-far, far)];
}
