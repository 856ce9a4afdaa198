import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { reversePath, startAt } from '../../../src/geometry/paths/path.ts';
import { sameCurve } from '../../../src/geometry/measuring/same-curve.ts';
import { transformPath, translation } from '../../../src/geometry/paths/transform.ts';
import { evenly, rectangle, somePartsArbitrary } from '../../knife/sample-parts.ts';

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
