import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { turnDeg } from '../../../src/geometry/paths/angle.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import {
  compose,
  reflection,
  rotation,
  transformPath,
  translation,
} from '../../../src/geometry/paths/transform.ts';
import { likenessOf } from '../../../src/program/proof/likeness.ts';
import {
  evenly,
  rectangle,
  roundedRectangle,
  somePartsArbitrary,
} from '../../knife/sample-parts.ts';

const anyDeg = evenly(0, 360);

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
