import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeInPath } from '../../../src/geometry/relations/contains.ts';
import { roomiestPoint } from '../../../src/geometry/relations/interior.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import { circle, polyline } from '../../../src/geometry/paths/path.ts';
import { distance } from '../../../src/geometry/paths/point.ts';
import { somePartsArbitrary } from '../../knife/sample-parts.ts';

function square(size: number): ReturnType<typeof polyline> {
  const corners = [
    { x: 0, y: 0 },
    { x: size, y: 0 },
    { x: size, y: size },
    { x: 0, y: size },
  ];
  return polyline(corners, true);
}

describe('the roomiest point', () => {
  // [D] The largest circle in a circle is itself; in a square it has half the side for radius.
  it('of a circle and of a square is the middle', () => {
    const round = roomiestPoint(circle({ x: 5, y: -7 }, 80), []);
    expect(distance(round.point, { x: 5, y: -7 })).toBeLessThan(1.1);
    expect(round.radius).toBeGreaterThan(79);
    const box = roomiestPoint(square(100), []);
    expect(box.radius).toBeCloseTo(50, 6);
  });

  // [D] Square of side a with a round hole of radius r in its middle: the circle that touches two
  // sides and the hole has centre (q, q) with (a / 2 - q) sqrt 2 - r = q.
  it('keeps clear of holes', () => {
    const half = (50 * Math.SQRT2 - 20) / (1 + Math.SQRT2);
    const found = roomiestPoint(square(100), [circle({ x: 50, y: 50 }, 20)]);
    expect(found.radius).toBeGreaterThan(half - 1);
    expect(found.radius).toBeLessThan(half + 0.1);
  });

  it('has its room on small and narrow parts too', () => {
    expect(roomiestPoint(square(0.8), []).radius).toBeGreaterThan(0.38);
  });

  it('lies inside, as far from every edge as it says', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        for (const { cut, inner } of parts) {
          const holes = inner.map(({ path }) => path);
          const { point, radius } = roomiestPoint(cut, holes);
          expect(placeInPath(cut, point)).toBe('inside');
          for (const path of [cut, ...holes]) {
            expect(nearestOnPath(path, point).distance).toBeGreaterThan(radius - 0.06);
          }
        }
      }),
      { numRuns: 40 },
    );
  });
});
