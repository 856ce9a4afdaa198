import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circle } from '../../src/geometry/paths/path.ts';
import { chordError } from '../../src/geometry/paths/tolerance.ts';
import type { Part } from '../../src/handing/part.ts';
import type { Slices } from '../../src/lay/engine/slices.ts';
import { forbiddenShifts, slicesOf } from '../../src/lay/engine/slices.ts';
import { grownOutline } from '../../src/lay/outline.ts';
import { pairs } from './engine/polygons.ts';
import { oblong, partOf } from './fixtures.ts';

/** What flattening and growing may add to a distance: two arcs as tangents, two grown contours. */
const mostSlack = 2 * chordError + 2 * 0.0101;

const gaps = fc.oneof(fc.constant(0), fc.double({ min: 0.05, max: 30, noNaN: true }));
const radius = fc.double({ min: 5, max: 300, noNaN: true });
const height = fc.double({ min: -0.9, max: 0.9, noNaN: true });

function slices(part: Part, gap: number): Slices {
  const { outline, holes } = grownOutline(part, gap);
  return slicesOf([outline, ...holes].map((ring) => pairs(ring).map(([x, y]) => ({ x, y }))));
}

function shiftsOf(fixed: Part, moving: Part, gap: number, dy: number): readonly number[] {
  return forbiddenShifts(slices(fixed, gap), slices(moving, gap), dy);
}

describe('grownOutline', () => {
  // Circles R and r keep the gap g where their centres are R + r + g apart [D].
  it('discs beside each other keep the gap, and no more than a tenth of a mm beyond it', () => {
    fc.assert(
      fc.property(radius, radius, gaps, height, (big, small, gap, share) => {
        const reach = big + small + gap;
        const dy = reach * share;
        const a = partOf('a', circle({ x: 0, y: 0 }, big));
        const b = partOf('b', circle({ x: 0, y: 0 }, small));
        const [low, high, ...more] = shiftsOf(a, b, gap, dy);
        expect(more).toEqual([]);
        for (const dx of [low!, high!]) {
          const apart = Math.hypot(dx, dy) - reach;
          expect(apart).toBeGreaterThan(-1e-9);
          expect(apart).toBeLessThan(mostSlack);
        }
      }),
    );
  });

  // A disc r in a round cutout R has play where its centre is at most R - r - g from the cutout's [D].
  it('a disc in a cutout keeps the gap all round', () => {
    fc.assert(
      fc.property(radius, gaps, height, (small, gap, share) => {
        const play = 20;
        const cutout = small + gap + play;
        const size = 2 * cutout + 100;
        const plate = oblong(size, size, -size / 2, -size / 2);
        const dy = play * share;
        const a = partOf('a', plate, [circle({ x: 0, y: 0 }, cutout)]);
        const b = partOf('b', circle({ x: 0, y: 0 }, small));
        const [, low, high] = shiftsOf(a, b, gap, dy);
        for (const dx of [low!, high!]) {
          const left = play - Math.hypot(dx, dy);
          expect(left).toBeGreaterThan(-1e-9);
          expect(left).toBeLessThan(mostSlack);
        }
      }),
    );
  });

  it('oblongs without a gap may touch exactly', () => {
    const [low, high] = shiftsOf(partOf('a', oblong(100, 50)), partOf('b', oblong(30, 20)), 0, 10);
    expect([low, high]).toEqual([-30, 100]);
  });

  it('cutouts with less room than the smallest part are taken as material', () => {
    const plate = partOf('plate', oblong(100, 100), [oblong(30, 30, 30, 30)]);
    expect(grownOutline(plate, 0, 900).holes).toHaveLength(1);
    expect(grownOutline(plate, 0, 901).holes).toHaveLength(0);
  });

  it('a bay that the gap closes is a hole', () => {
    // A square of 100 with a bay of 60 x 60 in its right side, whose mouth is 4 wide: closed by a gap of 5.
    const corners = [
      [0, 0],
      [100, 0],
      [100, 48],
      [90, 48],
      [90, 20],
      [30, 20],
      [30, 80],
      [90, 80],
      [90, 52],
      [100, 52],
      [100, 100],
      [0, 100],
    ].map(([x, y]) => ({ x: x!, y: y!, bulge: 0 }));
    const bay = partOf('bay', { closed: true, vertices: corners });
    expect(grownOutline(bay, 3).holes).toHaveLength(0);
    expect(grownOutline(bay, 5).holes).toHaveLength(1);
  });
});
