import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circlesIn } from '../../../src/lay/engine/circles.ts';
import { convexPieces } from '../../../src/lay/engine/convex.ts';
import { pairTable, severityAt } from '../../../src/lay/engine/pair-table.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
import { cross, hullOf, turned, twiceArea } from '../../../src/lay/engine/polygon.ts';
import { simplified } from '../../../src/lay/engine/simplify.ts';
import { commonArea, judged, pairs, polygon, restArea } from './polygons.ts';

/** A square hole near the middle of a frame of 400 x 300. */
const frame: Ring[] = [
  [0, 0, 400, 0, 400, 300, 0, 300],
  [150, 100, 150, 200, 260, 200, 260, 100],
];

function shapeOf(rings: readonly Ring[]) {
  const [outer, ...holes] = rings;
  const size = Math.sqrt(twiceArea(hullOf(outer!)) / 2);
  return { pieces: convexPieces(outer!, holes), circles: circlesIn(outer!, holes), size };
}

describe('convex pieces', () => {
  it('are convex, and together the polygon', () => {
    fc.assert(
      fc.property(polygon, (ring) => {
        const pieces = convexPieces(ring);
        const sum = pieces.reduce((area, piece) => area + twiceArea(piece), 0);
        expect(sum / twiceArea(ring)).toBeCloseTo(1, 9);
        for (const piece of pieces) {
          const corners = pairs(piece);
          const n = corners.length;
          for (const [i, b] of corners.entries()) {
            const [a, c] = [corners[(i + n - 1) % n]!, corners[(i + 1) % n]!];
            expect(cross(...a, ...b, ...c)).toBeGreaterThanOrEqual(0);
          }
          expect(commonArea(judged([piece]), judged([ring]))).toBeCloseTo(twiceArea(piece) / 2, 3);
        }
      }),
      { numRuns: 50 },
    );
  });

  it('leave holes free', () => {
    const area = convexPieces(frame[0]!, frame.slice(1)).reduce(
      (sum, one) => sum + twiceArea(one),
      0,
    );
    expect(area / 2).toBe(400 * 300 - 110 * 100);
  });
});

describe('simplified', () => {
  it('holds all of the polygon, adds no more than is allowed, and has fewer corners or as many', () => {
    fc.assert(
      fc.property(polygon, fc.double({ min: 0, max: 0.05, noNaN: true }), (ring, share) => {
        const simple = simplified(ring, share);
        expect(simple.length).toBeLessThanOrEqual(ring.length);
        expect(twiceArea(simple)).toBeLessThanOrEqual(twiceArea(ring) * (1 + share) + 1e-6);
        expect(restArea(judged([ring]), judged([simple]))).toBeLessThan(1e-3);
      }),
    );
  });
});

describe('the table of a pair', () => {
  it('says there is an overlap where there is one, and none where there is none', () => {
    const shapes = fc.oneof(
      polygon.map((ring) => [ring]),
      fc.constant(frame),
    );
    const offset = fc.double({ min: -900, max: 900, noNaN: true });
    fc.assert(
      fc.property(
        shapes,
        shapes,
        fc.array(fc.tuple(offset, offset), { minLength: 30, maxLength: 30 }),
        (a, b, offsets) => {
          const table = pairTable(shapeOf(a), shapeOf(b), 1e-6);
          for (const [dx, dy] of offsets) {
            const common = commonArea(judged(a), judged(b, dx, dy));
            // Slivers thinner than the table's slack are no overlap.
            if (common > 0 && common < 0.01) continue;
            expect(severityAt(table, dx, dy) > 0).toBe(common > 0);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('lets a shape lie in the hole of another, and touch it', () => {
    const square: Ring[] = [[0, 0, 100, 0, 100, 100, 0, 100]];
    const table = pairTable(shapeOf(frame), shapeOf(square), 1e-6);
    expect(severityAt(table, 150, 100)).toBe(0);
    expect(severityAt(table, 160, 100)).toBe(0);
    expect(severityAt(table, 160.01, 100)).toBeGreaterThan(0);
    expect(severityAt(table, 400, 0)).toBe(0);
    expect(severityAt(table, 399.99, 0)).toBeGreaterThan(0);
  });

  it('is the same turned about with both shapes', () => {
    const a = shapeOf(frame);
    const b = shapeOf([[0, 0, 90, 10, 60, 80]]);
    const half = (rings: readonly Ring[]) => shapeOf(rings.map((ring) => turned(ring, 180)));
    const table = pairTable(a, b, 1e-6);
    const about = pairTable(half(frame), half([[0, 0, 90, 10, 60, 80]]), 1e-6);
    for (const [dx, dy] of [
      [10, 20],
      [170, 120],
      [300, 250],
    ] as const) {
      expect(severityAt(about, -dx, -dy) > 0).toBe(severityAt(table, dx, dy) > 0);
    }
  });
});
