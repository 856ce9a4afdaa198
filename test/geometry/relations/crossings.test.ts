import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { segmentCrossings, selfCrossings } from '../../../src/geometry/relations/crossings.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { polyline, segmentsOf } from '../../../src/geometry/paths/path.ts';
import type { Point } from '../../../src/geometry/paths/point.ts';
import { outline } from '../arbitrary.ts';

/** Closed paths of lines and arcs that may cross themselves in any way. */
const tangle: fc.Arbitrary<Path> = fc
  .array(
    fc.record({
      x: fc.integer({ min: 0, max: 12 }),
      y: fc.integer({ min: 0, max: 12 }),
      bulge: fc.constantFrom(0, 0, 0.3, -0.5, 1, 0.05),
    }),
    { minLength: 3, maxLength: 9 },
  )
  .map((vertices) => ({
    closed: true,
    vertices: vertices.filter((v, i) => {
      const next = vertices[(i + 1) % vertices.length]!;
      return v.x !== next.x || v.y !== next.y;
    }),
  }))
  .filter(({ vertices }) => vertices.length >= 3);

/** Every pair of segments, other than at the corners that neighbours share: the definition. */
function crossingsOfAllPairs(path: Path): Point[] {
  const segments = segmentsOf(path);
  return segments.flatMap((a, i) =>
    segments.flatMap((b, j) => {
      if (j <= i) return [];
      const corners = [
        ...(j === i + 1 ? [b.from] : []),
        ...(i === 0 && j === segments.length - 1 ? [a.from] : []),
      ];
      return segmentCrossings(a, b).filter((p) =>
        corners.every((corner) => Math.hypot(p.x - corner.x, p.y - corner.y) > 1e-5),
      );
    }),
  );
}

describe('selfCrossings', () => {
  it('finds what looking at all pairs of segments finds', () => {
    fc.assert(
      fc.property(tangle, (path) => {
        const found = selfCrossings(path);
        const corners = new Set<Point>(path.vertices);
        // A fold straight back over the segment before is told by the corner, which no pair has.
        expect(found.filter((p) => !corners.has(p))).toEqual(
          crossingsOfAllPairs(path).filter((p) => !corners.has(p)),
        );
      }),
    );
  });

  it('finds nothing in outlines that do not cross themselves', () => {
    fc.assert(
      fc.property(outline, (path) => {
        expect(selfCrossings(path)).toEqual([]);
      }),
    );
  });

  it('finds a side folded back over the one before', () => {
    const path = polyline(
      [
        { x: 0, y: 0 },
        { x: 100, y: 0 },
        { x: 40, y: 0 },
        { x: 40, y: 50 },
        { x: 0, y: 50 },
      ],
      true,
    );
    expect(selfCrossings(path)).toContainEqual({ x: 100, y: 0, bulge: 0 });
  });
});
