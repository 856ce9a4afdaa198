import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeInPath } from '../../../src/geometry/relations/contains.ts';
import { furthestOutside } from '../../../src/geometry/relations/excursion.ts';
import { measurePath } from '../../../src/geometry/measuring/measured-path.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import { alongPath, circle, pathLength, polyline } from '../../../src/geometry/paths/path.ts';
import { outline, point } from '../arbitrary.ts';

describe('furthestOutside', () => {
  it('names a place that lies outside by what it says, and misses little of the line between crossings', () => {
    fc.assert(
      fc.property(outline, point, point, (shape, by, to) => {
        const start = shape.vertices[0]!;
        const from = { x: start.x + by.x / 5, y: start.y + by.y / 5 };
        const path = polyline([from, { x: start.x + to.x / 5, y: start.y + to.y / 5 }], false);
        const found = furthestOutside(measurePath(shape), path, 0.5);
        const looked = Array.from(
          { length: 200 },
          (_, i) => alongPath(path, (pathLength(path) * i) / 199).point,
        )
          .filter((p) => placeInPath(shape, p) === 'outside')
          .map((p) => nearestOnPath(shape, p).distance);
        const furthest = Math.max(0, ...looked);
        if (found === null) {
          // Of a stretch that leaves and comes back, the eighths are looked at.
          expect(furthest).toBeLessThan(1);
          return;
        }
        expect(placeInPath(shape, found.at)).toBe('outside');
        expect(nearestOnPath(shape, found.at).distance).toBeCloseTo(found.distance, 9);
        expect(found.distance).toBeGreaterThan(0.5);
        expect(found.distance).toBeGreaterThan(0.7 * furthest - 0.5);
      }),
    );
  });

  it('knows how far an arc bulges out between two corners inside', () => {
    // Half of a circle of 50 about the origin, in a circle of 60 about 0, -20: [D] 10 mm out at its top.
    const arc = {
      closed: false,
      vertices: [
        { x: 50, y: 0, bulge: 1 },
        { x: -50, y: 0, bulge: 0 },
      ],
    };
    const around = measurePath(circle({ x: 0, y: -20 }, 60));
    const found = furthestOutside(around, arc, 0.5)!;
    expect(found.distance).toBeCloseTo(10, 6);
    expect(found.at.y).toBeCloseTo(50, 6);
  });
});
