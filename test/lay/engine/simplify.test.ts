import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/lay/engine/random.ts';
import { simplified } from '../../../src/lay/engine/simplify.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
import { crossesItself, distanceInto, pairs, polygon, ringArea } from './polygons.ts';
import { anyOutline, far } from './outlines.ts';

const share = fc.oneof(fc.constant(0.001), fc.double({ min: 0, max: 0.05, noNaN: true }));

/** What a corner may lie outside by: some bits of the coordinates. */
function noise(ring: Ring): number {
  return 1e-9 + 64 * Number.EPSILON * Math.max(...ring.map(Math.abs));
}

function expectGood(ring: Ring, allowed: number): void {
  const simple = simplified(ring, allowed);
  expect(simple.length).toBeLessThanOrEqual(ring.length);
  const [before, after] = [ringArea(ring), ringArea(simple)];
  const around = pairs(ring).length * noise(ring) * 1000;
  expect(after).toBeLessThanOrEqual(before * (1 + allowed) + around);
  expect(crossesItself(simple)).toBe(false);
  // Simple, with every corner of the first inside it and no corner of its own inside the first: it holds all of it.
  for (const corner of pairs(ring))
    expect(distanceInto(simple, corner)).toBeGreaterThan(-noise(ring));
  for (const corner of pairs(simple)) expect(distanceInto(ring, corner)).toBeLessThan(noise(ring));
}

describe('simplified', () => {
  it('holds all of the outline, adds no more than its share and stays simple', () => {
    fc.assert(fc.property(fc.oneof(polygon, anyOutline), share, expectGood), { numRuns: 300 });
  });

  it('so too of outlines that lie a million from their origin', () => {
    fc.assert(
      fc.property(anyOutline, far, share, (ring, [dx, dy], allowed) =>
        expectGood(
          ring.map((value, i) => value + (i % 2 === 0 ? dx : dy)),
          allowed,
        ),
      ),
      { numRuns: 200 },
    );
  });

  it('takes a circle that was digitised with noise, of 3000 points, to a fraction of them', () => {
    const random = seededRandom(5);
    const ring = Array.from({ length: 3000 }, (_, i) => {
      const [turn, radius] = [(2 * Math.PI * i) / 3000, 300 + 0.05 * random()];
      return [radius * Math.cos(turn), radius * Math.sin(turn)];
    }).flat();
    expectGood(ring, 0.001);
    expect(simplified(ring, 0.001).length).toBeLessThan(ring.length / 10);
  });

  it('leaves a triangle as it is, and an outline without a share to add as it was', () => {
    expect(simplified([0, 0, 9, 0, 9, 9], 0.05)).toEqual([0, 0, 9, 0, 9, 9]);
    const square = [0, 0, 9, 0, 9, 9, 0, 9];
    expect(ringArea(simplified(square, 0))).toBe(81);
  });
});
