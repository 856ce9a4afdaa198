import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf } from '../../../src/geometry/paths/area.ts';
import { placeInPath } from '../../../src/geometry/relations/contains.ts';
import { flatten } from '../../../src/geometry/paths/flatten.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import { circle, polyline, reversePath } from '../../../src/geometry/paths/path.ts';
import { between } from '../../../src/geometry/paths/point.ts';
import { outline } from '../arbitrary.ts';

describe('flatten', () => {
  // Step 2 acos(1 - e / R): R 100, e 0.1 gives 5.1251 degrees, 71 segments to the circle [D].
  it('a circle of 100 within 0.1 mm takes 71 chords (two halves of 36)', () => {
    expect(flatten(circle({ x: 0, y: 0 }, 100), 0.1).length).toBe(2 * Math.ceil(180 / 5.1251));
  });

  it('on: every corner is on the curve and no side strays further than the chord error', () => {
    fc.assert(
      fc.property(outline, fc.double({ min: 0.01, max: 2, noNaN: true }), (path, error) => {
        const points = flatten(path, error);
        expect(points.length).toBeGreaterThanOrEqual(path.vertices.length);
        for (const [i, p] of points.entries()) {
          expect(nearestOnPath(path, p).distance).toBeLessThan(1e-6);
          const middle = between(p, points[(i + 1) % points.length]!, 0.5);
          expect(nearestOnPath(path, middle).distance).toBeLessThan(error + 1e-6);
        }
      }),
    );
  });

  it.each(['outside', 'inside'] as const)(
    '%s: on that side of the whole outline, whichever way it runs',
    (side) => {
      fc.assert(
        fc.property(
          outline,
          fc.double({ min: 0.01, max: 2, noNaN: true }),
          fc.boolean(),
          (path, error, back) => {
            const run = back ? reversePath(path) : path;
            const points = flatten(run, error, side);
            for (const [i, p] of points.entries()) {
              for (const q of [p, between(p, points[(i + 1) % points.length]!, 0.5)]) {
                const place = placeInPath(path, q, 1e-6);
                expect(place === 'on' || place === side).toBe(true);
                expect(nearestOnPath(path, q).distance).toBeLessThan(error + 1e-6);
              }
            }
            const flat = areaOf(polyline(points, true));
            expect(side === 'outside' ? flat - areaOf(path) : areaOf(path) - flat).toBeGreaterThan(
              -1e-6,
            );
          },
        ),
      );
    },
  );
});
