import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { restLength, restOutline } from '../../src/lay/rest.ts';

/** By the shoelace formula, mm². */
function areaOf(points: readonly { x: number; y: number }[]): number {
  const sum = points.reduce((all, { x, y }, i) => {
    const next = points[(i + 1) % points.length]!;
    return all + x * next.y - next.x * y;
  }, 0);
  return Math.abs(sum) / 2;
}

describe('what is left of a roll', () => {
  it('is a length in whole mm, or nothing, or not known', () => {
    expect(restLength({ length: 14_000, startMargin: 20 }, 6239.4)).toBe(7760);
    expect(restLength({ length: 6250, startMargin: 20 }, 6239.4)).toBe(0);
    expect(restLength({ length: Infinity, startMargin: 20 }, 6239.4)).toBeNull();
  });

  // By hand: the far edge falls from 2000 to 1900 over 10 m, and is at 1940 where it is cut off at 6 m.
  it('has the outline of a roll that is not equally wide, from the cut on', () => {
    const outline = [
      { x: 0, y: 0 },
      { x: 10_000, y: 0 },
      { x: 10_000, y: 1900 },
      { x: 0, y: 2000 },
    ];
    expect(restOutline(outline, 6000)).toEqual([
      { x: 0, y: 0 },
      { x: 4000, y: 0 },
      { x: 4000, y: 1900 },
      { x: 0, y: 1940 },
    ]);
  });

  it('and what is cut off are all of it, whatever its shape', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 300, max: 2000 }), { minLength: 2, maxLength: 9 }),
        fc.integer({ min: 0, max: 9000 }),
        (widths, taken) => {
          const step = 9000 / (widths.length - 1);
          const far = widths.map((y, i) => ({ x: i * step, y })).toReversed();
          const outline = [{ x: 0, y: 0 }, { x: 9000, y: 0 }, ...far];
          const flipped = outline.map(({ x, y }) => ({ x: 9000 - x, y })).toReversed();
          const both =
            areaOf(restOutline(outline, taken)) + areaOf(restOutline(flipped, 9000 - taken));
          expect(both / areaOf(outline)).toBeCloseTo(1, 6);
        },
      ),
    );
  });
});
