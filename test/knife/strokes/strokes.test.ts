import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { circle, pathLength, polyline, segmentsOf } from '../../../src/geometry/paths/path.ts';
import { distance } from '../../../src/geometry/paths/point.ts';
import { pointAt } from '../../../src/geometry/paths/segment.ts';
import type { Cutter } from '../../../src/knife/cutter.ts';
import type { CutKind } from '../../../src/knife/cuts.ts';
import { notchCuts } from '../../../src/knife/order/notch-cuts.ts';
import { bladeReach } from '../../../src/knife/strokes/overcut.ts';
import { chordsOf } from '../../../src/knife/strokes/steps.ts';
import { tipStrokes } from '../../../src/knife/strokes/strokes.ts';
import {
  longBay,
  point,
  rectangle,
  roundedRectangle,
  smallTable,
  somePartsArbitrary,
} from '../sample-parts.ts';

/** tan 1 of the front edge and half of it behind: with T 8 and p 2 they reach 10 and 5 mm at the face, 2 and 1 below. */
const leaning: Cutter = {
  ...longBay,
  blade: { ...longBay.blade, leanFrontDeg: 45, leanRearDeg: (Math.atan(0.5) * 180) / Math.PI },
  heights: { ...longBay.heights, cut: -2 },
  closingOverlap: 3,
};
const trailing: Cutter = {
  ...smallTable,
  blade: leaning.blade,
  heights: leaning.heights,
  closingOverlap: 3,
};
const upright: Cutter = {
  ...leaning,
  blade: { ...leaning.blade, leanFrontDeg: 0, leanRearDeg: 0 },
};

function ends(kind: CutKind, path: Path, cutter: Cutter, stretch?: { from: number; to: number }) {
  const cut = { label: 'a', kind, path, ...(stretch === undefined ? {} : { stretch }) };
  return tipStrokes(cut, cutter, 8).map(({ vertices }) =>
    [vertices[0]!, vertices.at(-1)!].map(({ x, y }) => [round(x), round(y)]),
  );
}

function round(value: number): number {
  return Math.round(value * 1e6) / 1e6 + 0;
}

/** Facts 2, derived: an edge that leans by a reaches T tan a further at the face than at the underside. */
it.each([
  [45, 8],
  [30, 4.619],
])('a blade that leans by %d degrees overcuts 8 mm of carpet by %d mm', (deg, overcut) => {
  const { front } = bladeReach({ ...leaning, blade: { ...leaning.blade, leanFrontDeg: deg } }, 8);
  expect(front.upper - front.under).toBeCloseTo(overcut, 3);
});

// An L of 300 x 200 with its inside corner at (120, 100).
const ell = polyline(
  [point(0, 0), point(300, 0), point(300, 100), point(120, 100), point(120, 200), point(0, 200)],
  true,
);

describe('the strokes of an outline with an inside corner, worked by hand', () => {
  it('end where the underside is severed at outside corners, and clear of the inside one', () => {
    expect(ends('outline', ell, leaning)).toEqual([
      [
        [1, 0],
        [298, 0],
      ],
      [
        [300, 1],
        [300, 98],
      ],
      // Up to the inside corner the face is cut, 10 mm ahead of the tip.
      [
        [299, 100],
        [130, 100],
      ],
      // And on from it, 5 mm behind the tip.
      [
        [120, 105],
        [120, 198],
      ],
      [
        [119, 200],
        [2, 200],
      ],
      [
        [0, 199],
        [0, 2],
      ],
      // Past the start, clear of its corner.
      [
        [1, 0],
        [3, 0],
      ],
    ]);
  });

  it('of a trailing knife are one but where it would cut into the part', () => {
    expect(ends('outline', ell, trailing)).toEqual([
      [
        [0, 0],
        [130, 100],
      ],
      [
        [120, 105],
        [3, 0],
      ],
    ]);
  });

  it('run the other way round keep clear of the same corner', () => {
    const clockwise = polyline([...ell.vertices].reverse(), true);
    const strokes = ends('outline', clockwise, leaning);
    expect(strokes).toContainEqual([[119, 200].map((v, i) => (i === 0 ? 1 : v)), [118, 200]]);
    expect(strokes).toContainEqual([
      [120, 199],
      [120, 110],
    ]);
    expect(strokes).toContainEqual([
      [125, 100],
      [298, 100],
    ]);
  });

  it('go to the corners themselves where the blade stands upright', () => {
    expect(ends('outline', ell, upright)[2]).toEqual([
      [300, 100],
      [120, 100],
    ]);
    expect(ends('outline', ell, { ...upright, knife: trailing.knife })).toEqual([
      [
        [0, 0],
        [3, 0],
      ],
    ]);
  });
});

it('every corner of a cutout is one that the blade keeps clear of', () => {
  expect(ends('inner', rectangle(100, 60), leaning)).toEqual([
    [
      [5, 0],
      [90, 0],
    ],
    [
      [100, 5],
      [100, 50],
    ],
    [
      [95, 60],
      [10, 60],
    ],
    [
      [0, 55],
      [0, 10],
    ],
  ]);
});

it('a notch is cut at the face to its depth and no deeper', () => {
  const notch = polyline([point(50, 0), point(50, 15)], false);
  expect(ends('notch', notch, leaning)).toEqual([
    [
      [50, 1],
      [50, 5],
    ],
  ]);
  // 11.9 - 1 - 10 leaves less than a millimetre.
  expect(ends('notch', polyline([point(0, 0), point(0, 11.9)], false), leaning)).toEqual([]);
});

it('a contour without sharp corners is one stroke, on past its start, round no more than twice', () => {
  for (const cutter of [leaning, trailing]) {
    const [stroke, ...others] = tipStrokes(
      { label: 'a', kind: 'inner', path: circle(point(0, 0), 40) },
      cutter,
      8,
    );
    expect(others).toEqual([]);
    expect(pathLength(stroke!)).toBeCloseTo(80 * Math.PI + 3, 9);
  }
  const wide = { ...trailing, closingOverlap: 20 };
  const [twice] = tipStrokes({ label: 'a', kind: 'inner', path: circle(point(0, 0), 1) }, wide, 8);
  expect(pathLength(twice!)).toBeCloseTo(4 * Math.PI, 9);
});

it('a stretch of a contour is cut between its ends, over the start too', () => {
  const square = rectangle(100, 100);
  expect(ends('outline', square, leaning, { from: 350, to: 430 })).toEqual([
    [
      [0, 50],
      [0, 2],
    ],
    [
      [1, 0],
      [30, 0],
    ],
  ]);
  expect(ends('outline', square, leaning, { from: -50, to: 30 })).toEqual([
    [
      [0, 50],
      [0, 2],
    ],
    [
      [1, 0],
      [30, 0],
    ],
  ]);
});

it('what strokes leave of any contour is next to its sharp corners, and they lie on it', () => {
  fc.assert(
    fc.property(somePartsArbitrary, fc.constantFrom(leaning, trailing), (parts, cutter) => {
      for (const { cut } of parts) {
        const strokes = tipStrokes({ label: 'a', kind: 'outline', path: cut }, cutter, 8);
        expect(strokes.length).toBeGreaterThan(0);
        for (const stroke of strokes) {
          for (const { x, y } of stroke.vertices) {
            expect(nearestOnPath(cut, { x, y }).distance).toBeLessThan(1e-6);
          }
        }
        for (const segment of segmentsOf(cut)) {
          for (const share of [0.1, 0.3, 0.5, 0.7, 0.9]) {
            const p = pointAt(segment, share);
            const nearCorner = cut.vertices.some((corner) => distance(corner, p) <= 10 + 1e-6);
            const reached = strokes.some((stroke) => nearestOnPath(stroke, p).distance < 1e-6);
            expect(reached || nearCorner).toBe(true);
          }
        }
      }
    }),
    { numRuns: 50 },
  );
});

describe('a curve too tight for the blade', () => {
  const tight = roundedRectangle(200, 100, 5);

  it('is cut in chords with the knife up between, and the straights between them whole', () => {
    const strokes = tipStrokes({ label: 'a', kind: 'outline', path: tight }, longBay, 8);
    const chords = strokes.filter((stroke) => pathLength(stroke) < 5);
    // 2 acos(1 - 0.04 / 5) = 14.5 degrees: seven to a quarter turn.
    expect(chords.length).toBeGreaterThanOrEqual(4 * 7);
    for (const { vertices } of chords.slice(0, 28)) {
      expect(vertices).toHaveLength(2);
      const middle = pointAt(segmentsOf({ closed: false, vertices })[0]!, 0.5);
      expect(nearestOnPath(tight, middle).distance).toBeLessThanOrEqual(0.04);
    }
  });

  it('is left as it is to a trailing knife', () => {
    const cutter = { ...smallTable, blade: { ...smallTable.blade, smallestRadius: 8 } };
    expect(tipStrokes({ label: 'a', kind: 'outline', path: tight }, cutter, 8)).toHaveLength(1);
  });

  // Facts 2, derived: R 100 and an error of 0.1 take 71 chords to the circle.
  it('takes as many chords as its radius and the error ask for', () => {
    const halves = segmentsOf(circle(point(0, 0), 100)).map((half) => chordsOf(half, 0.1).length);
    expect(halves).toEqual([36, 36]);
    const step = 2 * Math.acos(1 - 0.1 / 100);
    expect(Math.ceil((2 * Math.PI) / step)).toBe(71);
  });
});

describe('a notch', () => {
  const notch = { from: point(50, 0), to: point(50, 6) };

  // Facts 2, derived: 6 mm wide and deep makes 53.130 degrees and sides of 6.708.
  it('of V shape is two strokes from its mouth to its tip', () => {
    const cuts = notchCuts(notch, { notches: { cut: 'v', width: 6 } });
    expect(cuts.map((path) => pathLength(path))).toEqual([
      expect.closeTo(6.708, 3),
      expect.closeTo(6.708, 3),
    ]);
    const [left, right] = cuts.map(({ vertices }) => vertices);
    expect([left![1], right![1]]).toMatchObject([notch.to, notch.to]);
    expect([left![0], right![0]]).toMatchObject([point(47, 0), point(53, 0)]);
    const half = Math.atan2(3, 6);
    expect((2 * half * 180) / Math.PI).toBeCloseTo(53.13, 3);
  });

  it('is one stroke as a slit and none as a mark', () => {
    expect(notchCuts(notch, { notches: { cut: 'slit' } })).toHaveLength(1);
    expect(notchCuts(notch, { notches: { cut: 'mark' } })).toEqual([]);
  });
});
