import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/lay/engine/random.ts';
import { simplified } from '../../../src/lay/engine/simplify.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
import { crossesItself, distanceInto, pairs, polygon, ringArea } from './polygons.ts';
import { oddOutline } from './odd-outlines.ts';
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

/** The corners of a ring and some points on each of its sides. */
function pointsOn(ring: Ring): [number, number][] {
  const corners = pairs(ring);
  return corners.flatMap(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % corners.length]!;
    return [0, 0.25, 0.5, 0.9].map((t): [number, number] => [
      ax + (bx - ax) * t,
      ay + (by - ay) * t,
    ]);
  });
}

const slack = fc.constantFrom(1e-9, 1e-7, 5e-6, 1e-3);

/** Whether the way turns back at b and runs, but for the last bits, along the line on which it came. */
function turnsBack([ax, ay]: Corner, [bx, by]: Corner, [cx, cy]: Corner): boolean {
  const [ux, uy, vx, vy] = [bx - ax, by - ay, cx - bx, cy - by];
  const longest = Math.max(Math.hypot(ux, uy), Math.hypot(vx, vy));
  return ux * vx + uy * vy < 0 && Math.abs(ux * vy - uy * vx) <= 1e-12 * longest;
}

type Corner = readonly [x: number, y: number];

/** The ring without corners written twice, and without tips of slots and spikes: they enclose nothing. */
function withoutTips(ring: Ring): number[] {
  const corners = pairs(ring);
  const needless = corners.findIndex((corner, i) => {
    const [before, after] = [corners.at(i - 1)!, corners[(i + 1) % corners.length]!];
    const isTwice = before[0] === corner[0] && before[1] === corner[1];
    return isTwice || turnsBack(before, corner, after);
  });
  return needless === -1 ? [...ring] : withoutTips(ring.toSpliced(2 * needless, 2));
}

describe('simplified within a slack', () => {
  it('holds all of a carelessly written outline and lies nowhere further outside it than the slack', () => {
    fc.assert(
      fc.property(fc.oneof(oddOutline, anyOutline, polygon), slack, (ring, allowed) => {
        const simple = simplified(ring, 0, allowed);
        expect(simple.length).toBeLessThanOrEqual(ring.length);
        const given = withoutTips(ring);
        // What an outline means that crosses itself by less than the slack is known no better than that.
        const unknown = crossesItself(given) ? allowed : 0;
        for (const point of pointsOn(given))
          expect(distanceInto(simple, point)).toBeGreaterThan(-unknown - noise(ring));
        for (const point of pointsOn(simple))
          expect(distanceInto(ring, point)).toBeGreaterThan(-allowed - noise(ring));
      }),
      { numRuns: 1000 },
    );
  });

  it('stays simple where the given outline is', () => {
    fc.assert(
      fc.property(fc.oneof(oddOutline, anyOutline), slack, share, (ring, allowed, larger) => {
        fc.pre(!crossesItself(ring));
        expect(crossesItself(simplified(ring, larger, allowed))).toBe(false);
      }),
      { numRuns: 500 },
    );
  });

  it('leaves out what is written twice, the last corner as the first among it', () => {
    const square = [0, 0, 100, 0, 100, 100, 0, 100];
    const twice = pairs(square).flatMap(([x, y]) => [x, y, x + 1e-13, y - 1e-13, x, y]);
    expect(simplified([...twice, 0, 0], 0, 1e-6)).toHaveLength(8);
  });

  it('takes two corners in nearly one place for one, on whichever side the second lies', () => {
    const bay = [0, 0, 20, 0, 20, 30, 120, 30, 120, 0, 140, 0, 140, 50, 0, 50];
    const turn = fc.integer({ min: 0, max: 15 }).map((k) => ((k + 0.5) * Math.PI) / 8);
    const turns = fc.array(turn, { minLength: 8, maxLength: 8 });
    fc.assert(
      fc.property(turns, fc.constantFrom(1e-13, 1e-11, 1e-9, 1e-8), (ways, off) => {
        const twice = pairs(bay).flatMap(([x, y], i) => [
          x,
          y,
          x + off * Math.cos(ways[i]!),
          y + off * Math.sin(ways[i]!),
        ]);
        expect(simplified(twice, 0, 1e-6)).toHaveLength(16);
      }),
      { numRuns: 300 },
    );
  });

  it.each([
    ['corners on its sides', 0],
    ['corners a little off its sides', 1e-7],
    ['teeth on its sides', 1e-7],
  ])('comes to the four corners of a square with %s', (_, off) => {
    const turned = [0, 1, 2, 3].flatMap((k) =>
      Array.from({ length: 40 }, (__, i) => {
        const [x, y] = [i - 20, -20 + (i > 0 && i % 4 < 2 ? off : 0)];
        return k === 0 ? [x, y] : k === 1 ? [-y, x] : k === 2 ? [-x, -y] : [y, -x];
      }).flat(),
    );
    expect(turned).toHaveLength(320);
    expect(simplified(turned, 0, 1e-6)).toHaveLength(8);
  });

  it.each([0, 10, 37.5, 80, 123.4, 229.1])(
    'leaves out corners at which the way goes back on a side, turned by %d degrees',
    (deg) => {
      // Off the first side by the last bits, so that it turns left both times.
      const back = [
        0, 0, 70, 1e-14, 40, 1e-14, 100, 0, 100, 100, 61, 100, 83, 100, 0, 100, 0, 33, 0, 77,
      ];
      const [cos, sin] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
      const turned = pairs(back).flatMap(([x, y]) => [x * cos - y * sin, x * sin + y * cos]);
      expect(simplified(turned, 0, 1e-6)).toHaveLength(8);
    },
  );

  it('leaves out slots and spikes without width, and none that have some', () => {
    const slot = [0, 0, 50, 0, 50, 40, 50, 0, 100, 0, 100, 100, 0, 100];
    expect(simplified(slot, 0, 1e-6)).toHaveLength(8);
    const spike = slot.with(5, -40);
    expect(simplified(spike, 0, 1e-6)).toHaveLength(8);
    expect(pairs(simplified(spike.with(6, 50 + 1e-9), 0, 1e-6))).toContainEqual([50, -40]);
  });

  it('makes a hole, which runs clockwise, no larger', () => {
    const hole = [0, 0, 0, 100, 50, 100 + 1e-7, 100, 100, 100, 0, 50, 1e-7, 40, 0];
    const simple = simplified(hole, 0, 1e-6);
    expect(simple.length).toBeLessThan(hole.length);
    const inside = pairs(simple).map(([x, y]) => distanceInto(hole, [x, y]));
    expect(Math.min(...inside)).toBeGreaterThan(-1e-12);
  });
});

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
