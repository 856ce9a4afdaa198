import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { turnDeg } from '../../src/geometry/angle.ts';
import { nearestOnPath } from '../../src/geometry/nearest.ts';
import { reversePath, startAt } from '../../src/geometry/path.ts';
import {
  compose,
  reflection,
  rotation,
  transformPath,
  translation,
} from '../../src/geometry/transform.ts';
import { likenessOf, sameCurve } from '../../src/program/likeness.ts';
import { evenly, rectangle, roundedRectangle, somePartsArbitrary } from '../knife/sample-parts.ts';

const anyDeg = evenly(0, 360);

describe('one curve', () => {
  it('may begin anywhere and run either way', () => {
    fc.assert(
      fc.property(somePartsArbitrary, evenly(0.1, 0.9), ([part], t) => {
        const other = startAt(reversePath(part!.cut), { segment: 1, t });
        expect(sameCurve(part!.cut, other, 1e-6)).toBe(true);
      }),
      { numRuns: 50 },
    );
  });

  it('is not another, moved by more than the tolerance or with a tooth more', () => {
    const moved = transformPath(translation({ x: 0.02, y: 0 }), rectangle(100, 50));
    expect(sameCurve(rectangle(100, 50), moved, 0.03)).toBe(true);
    expect(sameCurve(rectangle(100, 50), moved, 0.01)).toBe(false);
    const { vertices } = rectangle(100, 50);
    const tooth = { x: 40, y: 5, bulge: 0 };
    const near = { x: 60, y: 0, bulge: 0 };
    const toothed = { closed: true, vertices: [vertices[0]!, tooth, near, ...vertices.slice(1)] };
    expect(sameCurve(rectangle(100, 50), toothed, 0.01)).toBe(false);
  });
});

describe('the likeness', () => {
  it('finds how a contour was turned and moved', () => {
    fc.assert(
      fc.property(somePartsArbitrary, anyDeg, ([part], deg) => {
        const transform = compose(translation({ x: 400, y: -90 }), rotation(deg));
        const found = likenessOf(part!.cut, transformPath(transform, part!.cut), deg);
        expect(found?.mirrored).toBe(false);
        expect(Math.abs(turnDeg(found!.rotationDeg, deg))).toBeLessThan(0.01);
      }),
      { numRuns: 50 },
    );
  });

  it('finds that a contour was mirrored, unless its mirror image is itself', () => {
    fc.assert(
      fc.property(somePartsArbitrary, anyDeg, ([part], deg) => {
        const mirror = compose(rotation(deg), reflection({ x: 10, y: 20 }, 30));
        const image = transformPath(mirror, part!.cut);
        const found = likenessOf(part!.cut, image, 0);
        expect(found).toBeDefined();
        const back = transformPath(found!.transform, part!.cut);
        for (const vertex of back.vertices) {
          expect(nearestOnPath(image, vertex).distance).toBeLessThan(0.05);
        }
      }),
      { numRuns: 50 },
    );
    const lopsided = {
      closed: true,
      vertices: rectangle(100, 50).vertices.map((v, i) =>
        i === 2 ? { x: 100, y: 80, bulge: 0 } : v,
      ),
    };
    expect(
      likenessOf(lopsided, transformPath(reflection({ x: 0, y: 0 }, 0), lopsided), 0)?.mirrored,
    ).toBe(true);
  });

  it('takes the turn nearest to the one asked about', () => {
    const shape = roundedRectangle(200, 100, 20);
    expect(likenessOf(shape, shape, 0)?.rotationDeg).toBeCloseTo(0, 3);
    expect(likenessOf(shape, shape, 180)?.rotationDeg).toBeCloseTo(180, 3);
    expect(likenessOf(shape, rectangle(200, 100), 0)).toBeUndefined();
  });
});
