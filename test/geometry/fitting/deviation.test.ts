import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviation, isSamePlace } from '../../../src/geometry/fitting/deviation.ts';
import { flatten } from '../../../src/geometry/paths/flatten.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { transformPath, translation } from '../../../src/geometry/paths/transform.ts';
import { outline } from '../arbitrary.ts';
import { oblong } from '../../handing/fixtures.ts';
import { shapely } from '../../lay/shapely.ts';
import { randomFrom } from '../../support/random.ts';
import { tries } from '../../support/thorough.ts';
import { drawnOtherwise } from '../../compare/shapes.ts';

const seed = fc.integer({ min: 0, max: 2 ** 31 });

/** One vertex of a path moved by so much. */
function nudged(path: Path, index: number, dx: number, dy: number): Path {
  const k = index % path.vertices.length;
  return {
    ...path,
    vertices: path.vertices.map((v, i) => (i === k ? { ...v, x: v.x + dx, y: v.y + dy } : v)),
  };
}

describe('the largest deviation', () => {
  it('is nothing for one curve, wherever it begins and however it is cut up', () => {
    fc.assert(
      fc.property(outline, seed, (path, n) => {
        const again = drawnOtherwise(path, randomFrom(n));
        // Arcs that rise little are taken for straight, in whole and in pieces.
        expect(deviation(path, again).distance).toBeLessThan(3e-4);
        expect(isSamePlace(path, again, 3e-4)).toBe(true);
      }),
    );
  });

  it('is that of a side that was moved, at that side', () => {
    // [D] The right side 7 mm further out: every place of the old side is 7 mm from the new outline.
    const { distance, at } = deviation(oblong(0, 0, 400, 300), oblong(0, 0, 407, 300));
    expect(distance).toBeCloseTo(7, 9);
    expect(at.x).toBeCloseTo(407, 6);
    expect(isSamePlace(oblong(0, 0, 400, 300), oblong(0, 0, 407, 300), 6.99)).toBe(false);
    expect(isSamePlace(oblong(0, 0, 400, 300), oblong(0, 0, 407, 300), 7.01)).toBe(true);
  });

  it('is the same both ways, and no more than a move is far', () => {
    fc.assert(
      fc.property(outline, fc.double({ min: 0.1, max: 20, noNaN: true }), (path, by) => {
        const moved = transformPath(translation({ x: by, y: 0 }), path);
        const there = deviation(path, moved).distance;
        expect(deviation(moved, path).distance).toBeCloseTo(there, 6);
        expect(there).toBeLessThanOrEqual(by + 3e-4);
        expect(there).toBeGreaterThan(0);
      }),
    );
  });

  it.skipIf(shapely.missing)(`is the Hausdorff distance of shapely${shapely.note}`, () => {
    const cases = fc.sample(
      fc.tuple(
        outline,
        fc.nat(),
        fc.double({ min: -30, max: 30, noNaN: true }),
        fc.double({ min: -30, max: 30, noNaN: true }),
      ),
      { numRuns: tries(20, 30), seed: 11 },
    );
    const pairs = cases.map(([path, k, dx, dy]) => [path, nudged(path, k, dx, dy)] as const);
    const script = `
import json, sys
from shapely.geometry import LineString, Polygon

def dense(ring):
    line = Polygon(ring).exterior
    return LineString([line.interpolate(k) for k in range(int(line.length) + 1)] + [line.interpolate(0)])

pairs = json.load(sys.stdin)
print(json.dumps([dense(a).hausdorff_distance(dense(b)) for a, b in pairs]))`;
    const rings = pairs.map((both) =>
      both.map((path) => flatten(path, 0.002).map(({ x, y }) => [x, y])),
    );
    const meant = shapely.ask(script, rings) as number[];
    expect(meant).toHaveLength(pairs.length);
    for (const [i, [a, b]] of pairs.entries()) {
      // Both look at points along the curves: within half of what these are apart.
      expect(Math.abs(deviation(a, b).distance - meant[i]!)).toBeLessThan(0.6);
    }
  });
});
