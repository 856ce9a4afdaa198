import { area as clipArea, EndType, inflatePathsD, JoinType } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf, isCounterClockwise } from '../../src/geometry/area.ts';
import { selfCrossings } from '../../src/geometry/crossings.ts';
import { flatten } from '../../src/geometry/flatten.ts';
import { nearestOnPath } from '../../src/geometry/nearest.ts';
import { offsetPath } from '../../src/geometry/offset.ts';
import { circle, pathLength, polyline } from '../../src/geometry/path.ts';
import { outline } from './arbitrary.ts';

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
  // 100 x 50 moved out by 10 with mitred corners: area 8400, perimeter 380 [D].
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
    for (const vertex of out.vertices)
      expect(nearestOnPath(needle, vertex).distance).toBeLessThan(10.001);
  });

  // Clipper2 is the referee: mitred inflation of the flattened outline.
  it('agrees with an independent polygon library on uniform offsets', () => {
    fc.assert(
      fc.property(outline, fc.double({ min: 1, max: 25, noNaN: true }), (path, amount) => {
        const out = offsetPath(
          path,
          path.vertices.map(() => amount),
          20,
        );
        expect(isCounterClockwise(out)).toBe(true);
        if (selfCrossings(out).length > 0) return;
        const flat = flatten(path, 0.005);
        const grown = inflatePathsD([flat], amount, JoinType.Miter, EndType.Polygon, 20, 4);
        const expected = grown.reduce((sum, ring) => sum + Math.abs(clipArea(ring as never)), 0);
        expect(areaOf(out) / expected).toBeCloseTo(1, 3);
      }),
    );
  });

  it('is undone by the opposite offset', () => {
    fc.assert(
      fc.property(outline, fc.double({ min: 1, max: 10, noNaN: true }), (path, amount) => {
        const amounts = path.vertices.map(() => amount);
        const out = offsetPath(path, amounts, 20);
        if (out.vertices.length !== path.vertices.length) return;
        const back = offsetPath(
          out,
          amounts.map((a) => -a),
          20,
        );
        expect(areaOf(back) / areaOf(path)).toBeCloseTo(1, 6);
      }),
    );
  });
});
