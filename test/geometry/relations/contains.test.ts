import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeInPath } from '../../../src/geometry/relations/contains.ts';
import { flatten } from '../../../src/geometry/paths/flatten.ts';
import { circle, polyline } from '../../../src/geometry/paths/path.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import type { Point } from '../../../src/geometry/paths/point.ts';
import { outline, point } from '../arbitrary.ts';

/** Sum of the angles that the sides subtend: a full turn inside, none outside. Another method than ours. */
function windingAngle(polygon: readonly Point[], p: Point): number {
  return polygon.reduce((sum, a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    const turn = Math.atan2(b.y - p.y, b.x - p.x) - Math.atan2(a.y - p.y, a.x - p.x);
    return sum + Math.atan2(Math.sin(turn), Math.cos(turn));
  }, 0);
}

describe('placeInPath', () => {
  it('agrees with the winding angle, away from the outline', () => {
    const seen = { inside: 0, outside: 0 };
    fc.assert(
      fc.property(outline, fc.array(point, { minLength: 20, maxLength: 20 }), (path, points) => {
        const centre = path.vertices[0]!;
        for (const p of points) {
          const q = { x: centre.x + p.x / 3, y: centre.y + p.y / 3 };
          if (nearestOnPath(path, q).distance < 0.1) continue;
          const where =
            Math.abs(windingAngle(flatten(path, 0.01), q)) > Math.PI ? 'inside' : 'outside';
          seen[where]++;
          expect(placeInPath(path, q)).toBe(where);
        }
      }),
    );
    expect(Math.min(seen.inside, seen.outside)).toBeGreaterThan(10);
  });

  it('rays through corners and along sides count once', () => {
    const diamond = polyline(
      [
        { x: 0, y: -5 },
        { x: 5, y: 0 },
        { x: 0, y: 5 },
        { x: -5, y: 0 },
      ],
      true,
    );
    expect(placeInPath(diamond, { x: -1, y: 0 })).toBe('inside');
    expect(placeInPath(diamond, { x: -9, y: 0 })).toBe('outside');
    expect(placeInPath(diamond, { x: -9, y: 5 })).toBe('outside');
    expect(placeInPath(diamond, { x: 5, y: 0 })).toBe('on');
  });

  it('circles hold the bits outside their chords', () => {
    const disc = circle({ x: 0, y: 0 }, 10);
    expect(placeInPath(disc, { x: 0, y: 9.9 })).toBe('inside');
    expect(placeInPath(disc, { x: -9.9, y: 0 })).toBe('inside');
    expect(placeInPath(disc, { x: 0, y: -10.1 })).toBe('outside');
    expect(placeInPath(disc, { x: 0, y: 10 })).toBe('on');
  });
});
