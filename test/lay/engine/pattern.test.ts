import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Instance, Kind } from '../../../src/lay/engine/instance.ts';
import { prepared } from '../../../src/lay/engine/instance.ts';
import { firstLayout } from '../../../src/lay/engine/first-layout.ts';
import { beginSearch, nestOf } from '../../../src/lay/engine/nest.ts';
import { nest } from './nested.ts';
import type { Nest } from '../../../src/lay/engine/nest.ts';
import {
  blocksToTry,
  pitchOf,
  placedIn,
  repeatedPattern,
} from '../../../src/lay/engine/pattern.ts';
import { depthOf, faults, itemAt, tolerated } from './judge.ts';
import { polygon, rounds } from './polygons.ts';

const kinds: fc.Arbitrary<Kind[]> = fc.array(
  fc.record({
    outline: polygon,
    rotations: fc.constantFrom([0], [0, 180], [90, 270]),
    demand: fc.integer({ min: 1, max: 2 }),
  }),
  { minLength: 1, maxLength: 3 },
);

/** How deep a layout and a copy of it, moved along the strip, overlap. */
function depthAt(instance: Instance, { placements }: Nest, by: number): number {
  const at = (shift: number) =>
    placements.map(({ kind, rotation, x, y }) =>
      itemAt(instance.kinds[kind]!, rotation, x + shift, y),
    );
  const copy = at(by);
  return Math.max(...at(0).flatMap((one) => copy.map((other) => depthOf(one, other))));
}

describe('pitchOf', () => {
  it('copies at once and twice the pitch do not overlap, and any nearer they do', () => {
    fc.assert(
      fc.property(kinds, fc.integer({ min: 1, max: 20 }), (some, count) => {
        const instance = { width: 1000, kinds: some };
        const ready = prepared(instance);
        const search = beginSearch(ready, 1, { used: rounds(count) });
        search.until(1);
        const layout = nestOf(ready, search.best);
        const pitch = pitchOf(ready, placedIn(ready, search.best));
        expect(pitch).toBeGreaterThan(0);
        const tolerance = tolerated(instance);
        for (const times of [1, 2, 3]) {
          expect(depthAt(instance, layout, times * pitch)).toBeLessThan(tolerance);
        }
        // The outlines laid may hold a thousandth of their area more than those judged.
        expect(depthAt(instance, layout, 0.98 * pitch)).toBeGreaterThan(tolerance);
      }),
      { numRuns: 40 },
    );
  });

  // Triangles, which are never simplified: their pitch is exact.
  it('is no more than is needed', () => {
    const side = fc.integer({ min: 100, max: 500 });
    fc.assert(
      fc.property(side, side, fc.integer({ min: 1, max: 3 }), (long, wide, demand) => {
        const outline = [0, 0, long, 0, long, wide];
        const instance = { width: 500, kinds: [{ outline, rotations: [0, 180], demand }] };
        const ready = prepared(instance);
        const layout = firstLayout(ready);
        const pitch = pitchOf(ready, placedIn(ready, layout));
        const nested = nestOf(ready, layout);
        expect(depthAt(instance, nested, pitch)).toBeLessThan(tolerated(instance));
        expect(depthAt(instance, nested, 0.999 * pitch)).toBeGreaterThan(tolerated(instance));
      }),
    );
  });

  it('of nothing is 0', () => {
    const ready = prepared({ width: 400, kinds: [] });
    expect(pitchOf(ready, placedIn(ready, firstLayout(ready)))).toBe(0);
  });
});

const triangle = [0, 0, 120, 0, 120, 90];
const house = [0, 0, 80, 0, 90, 60, 40, 100, 0, 60];

/** Nine shares of four triangles and three houses: 63 items, in blocks of one, two, three or four shares. */
const repeating: Instance = {
  width: 300,
  kinds: [
    { outline: triangle, rotations: [0, 180], demand: 36 },
    { outline: house, rotations: [0, 180], demand: 27 },
  ],
};

describe('blocks to try', () => {
  const withDemands = (...demands: number[]): Instance => ({
    width: 300,
    kinds: demands.map((demand) => ({ outline: triangle, rotations: [0], demand })),
  });

  it('are there only where at least two go into what the demands have in common', () => {
    expect(blocksToTry(prepared(withDemands(36, 27)))).toEqual([1, 2, 3]);
    expect(blocksToTry(prepared(withDemands(40, 24)))).toEqual([1, 2, 3]);
    expect(blocksToTry(prepared(withDemands(40, 35)))).toEqual([1, 2]);
    expect(blocksToTry(prepared(withDemands(31, 32)))).toEqual([]);
  });

  it('are none for few items, nor where something lies fixed', () => {
    expect(blocksToTry(prepared(withDemands(20, 10)))).toEqual([]);
    const fixed = [{ outline: [0, 0, 10, 0, 10, 10] }];
    expect(blocksToTry(prepared({ ...withDemands(36, 27), fixed }))).toEqual([]);
  });
});

describe('repeatedPattern', () => {
  it('places whole blocks only, each item once and without faults', () => {
    const whole = prepared(repeating);
    const tried: number[] = [];
    const known = repeatedPattern(whole, (block, nth, before) => {
      tried.push(nth);
      // A block before goes into this one whole.
      if (before !== null) {
        expect(before.placed.length * before.times).toBe(block.kindOf.length);
      }
      const search = beginSearch(block, 1, { used: rounds(20) });
      search.until(1);
      const placed = placedIn(block, search.best);
      return { placed, pitch: pitchOf(block, placed) };
    });
    expect(tried).toEqual([0, 1, 2]);
    const counts = [0, 1].map(
      (kind) => [...known.keys()].filter((item) => whole.kindOf[item] === kind).length,
    );
    const copies = counts[0]! / 4;
    expect(Number.isInteger(copies)).toBe(true);
    expect(counts[1]).toBe(3 * copies);
    expect(known.size).toBe(counts[0]! + counts[1]!);
    // Nine shares: blocks of one or three leave none over, blocks of two leave one.
    expect([8, 9]).toContain(copies);
    for (const [item, { turn }] of known) expect(whole.problem.turnsOf[item]).toContain(turn);
    const layout = nestOf(whole, firstLayout(whole, known));
    expect(faults(repeating, layout)).toEqual([]);
  });

  it.each([
    [0, true],
    [0.9, false],
  ])('is looked for if %d of the budget is used: %s', (share, isLookedFor) => {
    let looks = 0;
    const asked = rounds(30);
    beginSearch(prepared(repeating), 2, {
      used: () => Math.max(share, asked()),
      watch: () => looks++,
    });
    expect(looks > 0).toBe(isLookedFor);
  });

  it.each([60, 400])('within a search of %i rounds gives layouts without faults', (count) => {
    const found: Nest[] = [];
    const budget = { used: rounds(count), found: (each: Nest) => found.push(each) };
    found.push(nest(prepared(repeating), 1, budget));
    for (const each of found) expect(faults(repeating, each)).toEqual([]);
  });
});
