import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  drawnDefect,
  lineBetween,
  ringAround,
} from '../../../../src/web/page/roll-picture/places/defect.ts';

const anyMm = fc.double({ min: 0, max: 30_000, noNaN: true });

/** How far a point is from the line through each edge, to its left; all are positive inside a convex ring. */
function insideBy(corners: [number, number][], [x, y]: [number, number]): number {
  return Math.min(
    ...corners.map(([ax, ay], i) => {
      const [bx, by] = corners[(i + 1) % corners.length]!;
      return ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / Math.hypot(bx - ax, by - ay);
    }),
  );
}

describe('a defect that is drawn', () => {
  it('as a ring has all of the ring in it, and little more', () => {
    fc.assert(
      fc.property(anyMm, anyMm, fc.double({ min: 5, max: 500, noNaN: true }), (x, y, radius) => {
        const corners = ringAround({ x, y }, radius);
        for (let deg = 0; deg < 360; deg += 7) {
          const angle = (deg * Math.PI) / 180;
          const on: [number, number] = [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
          expect(insideBy(corners, on)).toBeGreaterThan(-1e-6);
        }
        for (const [cx, cy] of corners) {
          expect(Math.hypot(cx - x, cy - y)).toBeLessThan(1.03 * radius + 2);
        }
      }),
    );
  });

  it('as a line has all of the line in it, with half its width on every side', () => {
    fc.assert(
      fc.property(anyMm, anyMm, anyMm, anyMm, (ax, ay, bx, by) => {
        fc.pre(Math.hypot(bx - ax, by - ay) > 1);
        const corners = lineBetween({ x: ax, y: ay }, { x: bx, y: by }, 20);
        for (const share of [0, 0.3, 1]) {
          const on: [number, number] = [ax + share * (bx - ax), ay + share * (by - ay)];
          // Corners are whole mm, rounded outwards.
          expect(insideBy(corners, on)).toBeGreaterThan(8.5);
        }
      }),
    );
  });

  it('is none where nothing of it lies on the roll, or where it has no size', () => {
    const roll = { width: 2000, length: 5000 };
    expect(drawnDefect('ring', { x: 100, y: -80 }, { x: 100, y: -20 }, roll, 20)).toBeNull();
    expect(drawnDefect('line', { x: 5100, y: 5 }, { x: 5200, y: 5 }, roll, 20)).toBeNull();
    expect(drawnDefect('ring', { x: 100, y: 80 }, { x: 100.2, y: 80 }, roll, 20)).toBeNull();
    expect(drawnDefect('ring', { x: 100, y: 80 }, { x: 150, y: 80 }, roll, 20)).toHaveLength(16);
  });
});
