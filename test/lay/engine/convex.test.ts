import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexDifference, convexPieces } from '../../../src/lay/engine/convex.ts';
import { crossProduct, twiceArea } from '../../../src/lay/engine/polygon.ts';
import { turnedBy } from './judge.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
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

/** An oblong of 400 by 200, its corner at (400, 200) cut off by a side of length `cut`, turned and moved. */
function cutOblong(cut: number, deg: number, x: number, y: number): number[] {
  const ring = [0, 0, 400, 0, 400, 200 - cut, 400 - cut, 200, 0, 200];
  return turnedBy(ring, deg).map((value, i) => value + (i % 2 === 0 ? x : y));
}

const tiny = fc.constantFrom(1e-62, 1e-16, 1e-13, 1e-12, 1e-11, 1e-10, 1e-9);
const place = fc.double({ min: -1000, max: 1000, noNaN: true });

describe('the difference of convex pieces', () => {
  it('has no side that cuts off a difference of corners, where a short side lies along a long one', () => {
    fc.assert(
      fc.property(
        tiny,
        fc.double({ min: 0, max: 360, noNaN: true }),
        place,
        place,
        (cut, deg, x, y) => {
          const fixed = cutOblong(cut, deg, x, y);
          for (const along of [45, 225]) {
            const moving = cutOblong(0.1, deg + along, y, x);
            const difference = convexDifference(fixed, moving);
            expect(mostBeyond(difference, fixed, moving)).toBeLessThan(1e-5);
          }
        },
      ),
      { numRuns: 400 },
    );
  });

  it('nor where pieces have short sides in a line with their long ones', () => {
    const split = fc.constantFrom(0, 1, 2, 3);
    fc.assert(
      fc.property(tiny, split, place, place, (short, at, x, y) => {
        const oblong = [0, 0, 400, 0, 400, 200, 0, 200];
        const towards = [
          [1, 0],
          [0, 1],
          [-1, 0],
          [0, -1],
        ][at]!;
        const extra = [
          oblong[2 * at]! + short * towards[0]!,
          oblong[2 * at + 1]! + short * towards[1]!,
        ];
        const ring = oblong.toSpliced(2 * at + 2, 0, ...extra);
        const [fixed] = convexPieces(
          turnedBy(ring, 37.5).map((value, i) => value + (i % 2 === 0 ? x : y)),
        );
        const [moving] = convexPieces(turnedBy(ring, 217.5));
        expect(mostBeyond(convexDifference(fixed!, moving!), fixed!, moving!)).toBeLessThan(1e-5);
      }),
      { numRuns: 200 },
    );
  });
});

/** How far a difference of corners lies outside the line through a side of the ring, at most. */
function mostBeyond(ring: Ring, fixed: Ring, moving: Ring): number {
  const corners = pairs(ring);
  const offsets = pairs(fixed).flatMap(([ax, ay]) =>
    pairs(moving).map(([bx, by]): [number, number] => [ax - bx, ay - by]),
  );
  return Math.max(
    ...corners.flatMap(([x, y], i) => {
      const [nx, ny] = corners[(i + 1) % corners.length]!;
      const length = Math.hypot(nx - x, ny - y);
      if (length === 0) return [];
      return offsets.map(([px, py]) => ((px - x) * (ny - y) - (py - y) * (nx - x)) / length);
    }),
  );
}
