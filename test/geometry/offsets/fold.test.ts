import { describe, expect, it } from 'vitest';
import { areaOf } from '../../../src/geometry/paths/area.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import { offsetPath } from '../../../src/geometry/offsets/offset.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { polyline } from '../../../src/geometry/paths/path.ts';
import { cutOf, depth, mitreLimit, outlineOf } from '../folded.ts';

function expectCorners(path: Path, corners: readonly (readonly [number, number])[]): void {
  for (const [x, y] of corners) {
    const near = path.vertices.some((v) => Math.hypot(v.x - x, v.y - y) < 1e-9);
    expect(near, `a corner at ${x}, ${y} among ${JSON.stringify(path.vertices)}`).toBe(true);
  }
  for (const vertex of path.vertices) {
    expect(nearestOnPath(outlineOf(corners), vertex).distance).toBeLessThan(1e-9);
  }
}

describe('turned edges at right angles', () => {
  // 100 x 50, the lower edge turned by 25. Its mirror line is y = 0.
  const oblong = outlineOf([
    [0, 0],
    [100, 0],
    [100, 50],
    [0, 50],
  ]);

  // [D] Both neighbours are cut on x = 0 and x = 100; their images in y = 0 are those lines themselves.
  it('beside edges without allowance', () => {
    const out = cutOf(oblong, ['turned', 0, 0, 0]);
    expectCorners(out, [
      [0, -25],
      [100, -25],
      [100, 50],
      [0, 50],
    ]);
  });

  // [D] The right edge is cut on x = 110, which meets y = 0 at (110, 0); from there the image of the cut
  // line goes down x = 110 as far as the turned edge's own cut line y = -25.
  it('beside a seam of 10', () => {
    const out = cutOf(oblong, ['turned', 10, 0, 0]);
    expectCorners(out, [
      [0, -25],
      [110, -25],
      [110, 50],
      [0, 50],
    ]);
  });

  // [D] The bisector at (100, 0) runs to the upper left, y = 100 - x. Its image in y = 0 is y = x - 100 to
  // the lower left: it meets y = -25 at (75, -25). Its image in x = 100 meets x = 125 at (125, 25). The
  // cut from one to the other runs through the net corner at right angles to the bisector.
  it('beside another turned edge', () => {
    const out = cutOf(oblong, ['turned', 'turned', 0, 0]);
    expectCorners(out, [
      [0, -25],
      [75, -25],
      [100, 0],
      [125, 25],
      [125, 50],
      [0, 50],
    ]);
    // 5000 net; below (100 + 75) / 2 x 25; to the right (50 + 25) / 2 x 25.
    expect(areaOf(out)).toBeCloseTo(5000 + 2187.5 + 937.5, 9);
  });
});

describe('turned edges at other corners', () => {
  // [D] Interior angles of 60 degrees: the images of the two other sides meet where the image of the third
  // corner is, 17.3 below the turned side, before they are 25 away from it.
  it('a short edge gets a triangle', () => {
    const apex = Math.sqrt(300);
    const triangle = outlineOf([
      [0, 0],
      [20, 0],
      [10, apex],
    ]);
    expectCorners(cutOf(triangle, ['turned', 0, 0]), [
      [0, 0],
      [10, -apex],
      [20, 0],
      [10, apex],
    ]);
  });

  // [D] All three sides turned: each flap is the image of the third of the triangle between two bisectors,
  // and so they fold to exactly the triangle's area.
  it('a triangle turned all round folds to its own area', () => {
    const triangle = outlineOf([
      [0, 0],
      [20, 0],
      [10, Math.sqrt(300)],
    ]);
    const out = cutOf(triangle, ['turned', 'turned', 'turned']);
    expect(areaOf(out)).toBeCloseTo(2 * areaOf(triangle), 9);
  });

  // [D] A turn of 10 degrees to a bound edge: the image of that edge would run 144 mm, and the mitre
  // limit allows 50. The allowance ends square.
  it('a corner that is nearly straight is a step', () => {
    const rad = Math.PI / 18;
    const path = outlineOf([
      [0, 0],
      [200, 0],
      [200 + 200 * Math.cos(rad), 200 * Math.sin(rad)],
      [0, 300],
    ]);
    const out = cutOf(path, ['turned', 0, 0, 0]);
    const along = out.vertices.filter(({ y }) => y < -1e-9);
    expect(along.map(({ x, y }) => [x, y])).toEqual([
      [0, -25],
      [200, -25],
    ]);
  });

  // [D] The last 20 of the lower side are turned, and so is the right one. Towards the bound part the
  // allowance ends square, on x = 80; towards the corner on y = x - 100. They meet at (80, -20).
  it('a short run between a step and a corner gets a triangle too', () => {
    const path = outlineOf([
      [0, 0],
      [80, 0],
      [100, 0],
      [100, 200],
      [0, 200],
    ]);
    expectCorners(cutOf(path, [0, 'turned', 'turned', 0, 0]), [
      [0, 0],
      [80, 0],
      [80, -20],
      [100, 0],
      [125, 25],
      [125, 200],
      [0, 200],
    ]);
  });

  // The mitred offset of the chords is the whole of it: no nick at any of them.
  it('an outline of many chords is turned as one', () => {
    const round = polyline(
      Array.from({ length: 60 }, (_, i) => ({
        x: 300 * Math.cos((i * Math.PI) / 30),
        y: 300 * Math.sin((i * Math.PI) / 30),
      })),
      true,
    );
    const edges = round.vertices.map(() => 'turned' as const);
    const plain = offsetPath(
      round,
      edges.map(() => depth),
      mitreLimit,
    );
    expect(cutOf(round, edges)).toEqual(plain);
  });

  // An inside corner of 90 degrees: the two cut lines are joined where they meet, as for any other kind.
  it('an inside corner is joined as ever', () => {
    const ell = outlineOf([
      [0, 0],
      [200, 0],
      [200, 100],
      [100, 100],
      [100, 200],
      [0, 200],
    ]);
    const out = cutOf(ell, [0, 0, 'turned', 'turned', 0, 0]);
    expectCorners(out, [
      [0, 0],
      [200, 0],
      [200, 125],
      [125, 125],
      [125, 200],
      [0, 200],
    ]);
  });

  // [D] The neighbour is an arc of radius 100 that leaves the corner (100, 0) straight up; the flap is its
  // image, an arc of radius 100 about (0, 0) too, and ends at depth 25: x = sqrt(100^2 - 25^2).
  it('the image of an arc is an arc', () => {
    const quarter = {
      closed: true,
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: 100, y: 0, bulge: Math.tan(Math.PI / 8) },
        { x: 0, y: 100, bulge: 0 },
      ],
    };
    const out = cutOf(quarter, ['turned', 0, 0]);
    const x = Math.sqrt(100 * 100 - 25 * 25);
    const at = out.vertices.findIndex((v) => Math.hypot(v.x - x, v.y + 25) < 1e-9);
    expect(at).not.toBe(-1);
    expect(out.vertices[at]!.bulge).toBeCloseTo(Math.tan(Math.asin(0.25) / 4), 9);
    // The quarter, and below it the strip of the half disc down to depth 25 [D].
    const strip = (25 * x + 100 * 100 * Math.asin(0.25)) / 2;
    expect(areaOf(out)).toBeCloseTo(2500 * Math.PI + strip, 6);
  });
});
