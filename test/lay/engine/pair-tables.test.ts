import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circlesIn } from '../../../src/lay/engine/circles.ts';
import { convexPieces } from '../../../src/lay/engine/convex.ts';
import type { Shape } from '../../../src/lay/engine/pair-tables.ts';
import { pairTables } from '../../../src/lay/engine/pair-tables.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
import { hullOf, turned, twiceArea } from '../../../src/lay/engine/polygon.ts';
import { commonArea, frame, judged, polygon } from './polygons.ts';

function shapeOf(rings: readonly Ring[]): Shape {
  const [outer, ...holes] = rings;
  const size = Math.sqrt(twiceArea(hullOf(outer!)) / 2);
  return { pieces: convexPieces(outer!, holes), circles: circlesIn(outer!, holes), size };
}

function tablesOf(...shapes: readonly (readonly Ring[])[]): ReturnType<typeof pairTables> {
  return pairTables(shapes.map(shapeOf), 1e-6);
}

describe('the tables of pairs', () => {
  it('say there is an overlap where there is one, and none where there is none', () => {
    const shapes = fc.oneof(
      polygon.map((ring) => [ring]),
      fc.constant(frame),
    );
    const offset = fc.double({ min: -900, max: 900, noNaN: true });
    const asked = fc.tuple(offset, offset, fc.nat(2), fc.nat(2));
    fc.assert(
      fc.property(
        fc.tuple(shapes, shapes, shapes),
        fc.array(asked, { minLength: 30, maxLength: 30 }),
        (three, questions) => {
          const { severityAt } = tablesOf(...three);
          for (const [dx, dy, a, b] of questions) {
            const common = commonArea(judged(three[a]!), judged(three[b]!, dx, dy));
            // Slivers thinner than the slack are no overlap.
            if (common > 0 && common < 0.01) continue;
            expect(severityAt(a, b, dx, dy) > 0).toBe(common > 0);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('let a shape lie in the hole of another, and touch it', () => {
    const { severityAt } = tablesOf(frame, [[0, 0, 100, 0, 100, 100, 0, 100]]);
    expect(severityAt(0, 1, 150, 100)).toBe(0);
    expect(severityAt(0, 1, 160, 100)).toBe(0);
    expect(severityAt(0, 1, 160.01, 100)).toBeGreaterThan(0);
    expect(severityAt(0, 1, 400, 0)).toBe(0);
    expect(severityAt(0, 1, 399.99, 0)).toBeGreaterThan(0);
  });

  it('say the same of a pair the other way round, and turned about with both shapes', () => {
    const rings: Ring[][] = [[...frame], [[0, 0, 90, 10, 60, 80]]];
    const { severityAt } = tablesOf(...rings);
    const half = tablesOf(...rings.map((shape) => shape.map((ring) => turned(ring, 180))));
    for (const [dx, dy] of [
      [10, 20],
      [170, 120],
      [300, 250],
    ] as const) {
      expect(severityAt(1, 0, -dx, -dy)).toBe(severityAt(0, 1, dx, dy));
      expect(half.severityAt(0, 1, -dx, -dy) > 0).toBe(severityAt(0, 1, dx, dy) > 0);
    }
  });

  it('say that it is worse the deeper an overlap is', () => {
    const square: Ring = [0, 0, 100, 0, 100, 100, 0, 100];
    const { severityAt } = tablesOf([square], [square]);
    const severities = [95, 75, 50, 25, 0].map((dx) => severityAt(0, 1, dx, 0));
    expect(severities).toEqual(severities.toSorted((a, b) => a - b));
    expect(severities[0]).toBeGreaterThan(0);
  });
});
