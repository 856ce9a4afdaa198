import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeInPath } from '../../../src/geometry/relations/contains.ts';
import { vertexOutside } from '../../../src/geometry/relations/inside.ts';
import { measurePath } from '../../../src/geometry/measuring/measured-path.ts';
import { polyline } from '../../../src/geometry/paths/path.ts';
import { outline, point } from '../arbitrary.ts';

describe('vertexOutside', () => {
  it('is the first vertex that placeInPath has outside', () => {
    fc.assert(
      fc.property(outline, fc.array(point, { minLength: 2, maxLength: 9 }), (path, points) => {
        const middle = path.vertices[0]!;
        const inner = polyline(
          points.map(({ x, y }) => ({ x: middle.x + x / 5, y: middle.y + y / 5 })),
          true,
        );
        const meant = inner.vertices.find((v) => placeInPath(path, v) === 'outside');
        expect(vertexOutside(measurePath(path), inner)).toBe(meant ?? null);
      }),
    );
  });

  it('is none for a path in itself', () => {
    fc.assert(
      fc.property(outline, (path) => {
        expect(vertexOutside(measurePath(path), path)).toBeNull();
      }),
    );
  });
});
