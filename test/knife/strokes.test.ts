import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circle, pathLength, polyline } from '../../src/geometry/path.ts';
import { distance } from '../../src/geometry/point.ts';
import { tipPath } from '../../src/knife/strokes.ts';
import { evenly, point, rectangle, somePartsArbitrary } from './sample-parts.ts';

describe('the way of the tip', () => {
  it('of a notch is the notch', () => {
    const notch = polyline([point(0, 0), point(0, 6)], false);
    expect(tipPath(notch, 5)).toBe(notch);
  });

  it('of a contour goes on past its start by the overlap', () => {
    fc.assert(
      fc.property(somePartsArbitrary, evenly(0, 20), (parts, overlap) => {
        const { cut } = parts[0]!;
        const tip = tipPath(cut, overlap);
        expect(tip.closed).toBe(false);
        expect(pathLength(tip)).toBeCloseTo(pathLength(cut) + overlap, 5);
        expect(distance(tip.vertices[0]!, cut.vertices[0]!)).toBe(0);
      }),
      { numRuns: 50 },
    );
  });

  it('goes over corners within the overlap, and round no more than twice', () => {
    const small = tipPath(rectangle(4, 3), 5);
    expect(small.vertices.at(-1)).toMatchObject({ x: 4, y: 1 });
    expect(pathLength(tipPath(circle(point(0, 0), 1), 20))).toBeCloseTo(4 * Math.PI, 9);
  });
});
