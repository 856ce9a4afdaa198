import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compose,
  inverse,
  scaling,
  transformPoint,
} from '../../../src/geometry/paths/transform.ts';
import { distance } from '../../../src/geometry/paths/point.ts';
import { isometry, point } from '../arbitrary.ts';

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
