import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meetingPlace } from '../../../src/geometry/relations/meeting.ts';
import { circle, polyline } from '../../../src/geometry/paths/path.ts';

const offset = fc.double({ min: -300, max: 300, noNaN: true });
const radius = fc.double({ min: 5, max: 200, noNaN: true });

describe('meetingPlace', () => {
  it('of two circles is there just where they are no further apart than their radii', () => {
    fc.assert(
      fc.property(radius, radius, offset, offset, (first, second, x, y) => {
        fc.pre(Math.abs(Math.hypot(x, y) - first - second) > 1e-3);
        const place = meetingPlace(circle({ x: 0, y: 0 }, first), circle({ x, y }, second));
        expect(place !== null).toBe(Math.hypot(x, y) < first + second);
        if (place === null) return;
        expect(Math.hypot(place.x, place.y)).toBeLessThan(first + 1e-5);
        expect(Math.hypot(place.x - x, place.y - y)).toBeLessThan(second + 1e-5);
      }),
    );
  });

  it('of a point is the point, where it lies on the area; an open line holds nothing', () => {
    const area = circle({ x: 0, y: 0 }, 10);
    expect(meetingPlace(area, polyline([{ x: 5, y: 5 }], false))).toEqual({ x: 5, y: 5 });
    expect(meetingPlace(area, polyline([{ x: 8, y: 8 }], false))).toBeNull();
    const round = [
      [-20, -20],
      [20, -20],
      [20, 20],
      [-20, 20],
    ].map(([x, y]) => ({ x: x!, y: y! }));
    expect(meetingPlace(area, polyline(round, false))).toBeNull();
    expect(meetingPlace(area, polyline(round, true))).toEqual({ x: 10, y: 0 });
  });
});
