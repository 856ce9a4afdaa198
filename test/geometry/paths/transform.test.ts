import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxOfPath, circle } from '../../../src/geometry/paths/path.ts';
import { distance } from '../../../src/geometry/paths/point.ts';
import { arcOf } from '../../../src/geometry/paths/segment.ts';
import {
  compose,
  inverse,
  isMirror,
  reflection,
  rotation,
  scaling,
  transformPath,
  transformPoint,
} from '../../../src/geometry/paths/transform.ts';
import { angle, isometry, outline, point } from '../arbitrary.ts';

describe('mirrors', () => {
  // [[cos 2a, sin 2a], [sin 2a, -cos 2a]], determinant -1 [M: any text on plane isometries].
  it('is the reflection matrix', () => {
    const { a, b, c, d } = reflection({ x: 0, y: 0 }, 30);
    expect([a, b, c, d].map((v) => Number(v.toFixed(9)))).toEqual([
      0.5, 0.866025404, 0.866025404, -0.5,
    ]);
    expect(isMirror(reflection({ x: 5, y: 7 }, 30))).toBe(true);
    expect(isMirror(rotation(77))).toBe(false);
  });

  it('an upright axis turns x about and keeps y, exactly', () => {
    expect(transformPoint(reflection({ x: 0, y: 3 }, 90), { x: 0.1, y: 0.7 })).toEqual({
      x: -0.1,
      y: 0.7,
    });
  });

  it('twice is where it was, and points of the axis stay', () => {
    fc.assert(
      fc.property(point, angle, point, (through, deg, p) => {
        const mirror = reflection(through, deg);
        expect(distance(transformPoint(mirror, transformPoint(mirror, p)), p)).toBeLessThan(1e-8);
        expect(distance(transformPoint(mirror, through), through)).toBeLessThan(1e-8);
      }),
    );
  });

  it('twice in the centreline gives the path back to the last bit', () => {
    const mirror = reflection({ x: 0, y: 0 }, 90);
    fc.assert(
      fc.property(outline, (path) => {
        expect(transformPath(mirror, transformPath(mirror, path))).toEqual(path);
      }),
    );
  });

  it('arcs stay arcs: same radius, centre carried along', () => {
    fc.assert(
      fc.property(isometry, (transform) => {
        const segment = { from: { x: 0, y: 0 }, to: { x: 100, y: 20 }, bulge: 0.4 };
        const open = {
          closed: false,
          vertices: [
            { ...segment.from, bulge: 0.4 },
            { ...segment.to, bulge: 0 },
          ],
        };
        const [from, to] = transformPath(transform, open).vertices;
        const moved = arcOf({ from: from!, to: to!, bulge: from!.bulge });
        expect(
          distance(moved.centre, transformPoint(transform, arcOf(segment).centre)),
        ).toBeLessThan(1e-6);
        expect(Math.sign(from!.bulge)).toBe(isMirror(transform) ? -1 : 1);
      }),
    );
  });
});

describe('turns', () => {
  it('quarter turns are exact', () => {
    expect(transformPoint(rotation(90), { x: 0.1, y: 0.2 })).toEqual({ x: -0.2, y: 0.1 });
    expect(transformPoint(rotation(-270), { x: 0.1, y: 0.2 })).toEqual({ x: -0.2, y: 0.1 });
  });

  it('compose does the first thing first', () => {
    fc.assert(
      fc.property(isometry, isometry, point, (f, g, p) => {
        const both = transformPoint(compose(g, f), p);
        expect(distance(both, transformPoint(g, transformPoint(f, p)))).toBeLessThan(1e-6);
      }),
    );
  });

  it('unequal scaling of arcs is refused, of boxes it is not', () => {
    expect(() => transformPath(scaling(2, 1), circle({ x: 0, y: 0 }, 5))).toThrow(RangeError);
    expect(boxOfPath(transformPath(scaling(2, 2), circle({ x: 1, y: 0 }, 5)))).toEqual({
      minX: -8,
      minY: -10,
      maxX: 12,
      maxY: 10,
    });
  });
});

describe('inverse', () => {
  it('brings every point back, from either side', () => {
    const factor = fc.double({ min: 0.1, max: 10, noNaN: true });
    fc.assert(
      fc.property(isometry, factor, factor, point, (turn, x, y, p) => {
        const transform = compose(turn, scaling(x, -y));
        const back = inverse(transform);
        expect(distance(transformPoint(back, transformPoint(transform, p)), p)).toBeLessThan(1e-6);
        expect(distance(transformPoint(transform, transformPoint(back, p)), p)).toBeLessThan(1e-6);
      }),
    );
  });

  it('is refused where there is none', () => {
    expect(() => inverse(scaling(1, 0))).toThrow(RangeError);
  });
});
