import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstLayout } from '../../../src/lay/engine/first-layout.ts';
import type { Instance } from '../../../src/lay/engine/instance.ts';
import { prepared } from '../../../src/lay/engine/instance.ts';
import { put } from '../../../src/lay/engine/layout.ts';
import { beginSearch, nestOf } from '../../../src/lay/engine/nest.ts';
import { pairTables, SearchIsOver } from '../../../src/lay/engine/pair-tables.ts';
import { seededRandom } from '../../../src/lay/engine/random.ts';
import { separator, whileGoing } from '../../../src/lay/engine/separate.ts';
import { tries } from '../../support/thorough.ts';
import { faults } from './judge.ts';
import { rounds, someKinds } from './polygons.ts';

/** A question that is answered with no so many times, then with yes. */
function yesAfter(count: number) {
  let asked = 0;
  return { over: () => ++asked > count, asked: () => asked };
}

const instance: fc.Arbitrary<Instance> = fc.record({
  width: fc.integer({ min: 900, max: 1600 }),
  kinds: someKinds(fc.integer({ min: 1, max: 4 }), 4),
});

/** So many kinds that no item is laid with care any more once it is stopped. */
function manyKinds(count: number): Instance {
  const kinds = Array.from({ length: count }, (_, i) => ({
    outline: [0, 0, 100 + i, 0, 90, 60 + (i % 7)],
    rotations: [0, 180],
    demand: 1,
  }));
  return { width: 500, kinds };
}

describe('a first layout that is stopped', () => {
  it('has every item all the same, without faults', () => {
    fc.assert(
      fc.property(
        fc.array(instance, { minLength: 1, maxLength: 3 }),
        fc.nat(130),
        (some, count) => {
          // Kinds enough that the rest is put into columns.
          const kinds = [...manyKinds(101).kinds, ...some.flatMap((one) => one.kinds)];
          const fixed = [{ outline: [300, 0, 600, 0, 600, 800, 300, 800] }];
          const whole = { width: 1600, kinds, fixed };
          const ready = prepared(whole);
          expect(
            faults(whole, nestOf(ready, firstLayout(ready, new Map(), yesAfter(count).over))),
          ).toEqual([]);
        },
      ),
      { numRuns: tries(10, 40) },
    );
  });

  it('with many kinds lays no more items with care, and is asked before each', () => {
    const ready = prepared(manyKinds(120));
    const { over, asked } = yesAfter(50);
    const stopped = firstLayout(ready, new Map(), over);
    expect(asked()).toBe(51);
    expect(stopped.length).toBeGreaterThan(firstLayout(ready).length);
  });

  it('with few kinds lays some hundred more with care', () => {
    const kinds = [{ outline: [0, 0, 100, 0, 90, 60], rotations: [0, 180], demand: 250 }];
    const ready = prepared({ width: 500, kinds });
    expect(firstLayout(ready, new Map(), () => true)).toEqual(firstLayout(ready));
  });

  it('may be one of shapes that were only prepared roughly', () => {
    const whole = manyKinds(110);
    const ready = prepared(whole, yesAfter(40).over);
    expect(faults(whole, nestOf(ready, firstLayout(ready)))).toEqual([]);
  });
});

describe('tables of pairs', () => {
  const { problem } = prepared(manyKinds(20));

  it('ask before each is made, and make none once they are told that the search is over', () => {
    const { over, asked } = yesAfter(3);
    const { severityAt } = pairTables(problem.shapes, 1e-6, undefined, over);
    for (const b of [2, 4, 6]) severityAt(0, b, 1, 1);
    severityAt(0, 6, 5, 5);
    expect(asked()).toBe(3);
    expect(() => severityAt(0, 8, 1, 1)).toThrow(SearchIsOver);
    // What is there can still be looked up.
    expect(severityAt(0, 6, 1, 1)).toBeGreaterThan(0);
  });

  it('end the separation of items whose tables are still to be made', () => {
    const { over, asked } = yesAfter(30);
    const moving = separator(problem, seededRandom(1), over);
    moving.layout.length = 400;
    for (const [i, [turn]] of problem.turnsOf.entries())
      put(problem, moving.layout, i, turn!, 0, 0);
    expect(whileGoing(moving.separate({ rounds: 9, strikes: 9 }), () => true)).toBeNull();
    // All items lie in one heap: their tables would be 190.
    expect(asked()).toBe(31);
  });
});

describe('a search that is over', () => {
  it('asks no more than a few times, whatever it is doing, and keeps its best', () => {
    const repeated = (some: Instance, demand: number): Instance => ({
      ...some,
      kinds: some.kinds.map((kind) => ({ ...kind, demand })),
    });
    let early = 0;
    fc.assert(
      fc.property(instance, fc.boolean(), fc.nat(300), (some, repeats, count) => {
        // As many as 40 are laid in blocks.
        const one = repeated(some, repeats ? 40 : 6);
        const { over, asked } = yesAfter(count);
        const ready = prepared(one);
        const used = rounds(60);
        const isOver = (): boolean => over();
        let last = Infinity;
        const search = beginSearch(ready, 2, {
          used: () => (asked() > count ? Infinity : used()),
          over: isOver,
          found: ({ length }) => (last = length),
        });
        search.until(1);
        if (asked() > count) early++;
        expect(asked()).toBeLessThanOrEqual(count + 10);
        expect(search.best.length).toBe(last);
        expect(faults(one, nestOf(ready, search.best))).toEqual([]);
      }),
      { numRuns: tries(15, 60) },
    );
    expect(early).toBeGreaterThan(3);
  });
});
