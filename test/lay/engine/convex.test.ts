import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexPieces } from '../../../src/lay/engine/convex.ts';
import { crossProduct, twiceArea } from '../../../src/lay/engine/polygon.ts';
import { commonArea, frame, judged, pairs, polygon } from './polygons.ts';

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
            expect(crossProduct(...a, ...b, ...c)).toBeGreaterThanOrEqual(0);
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
