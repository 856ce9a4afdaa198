import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Instance } from '../../../src/lay/engine/instance.ts';
import { prepared } from '../../../src/lay/engine/instance.ts';
import type { Layout } from '../../../src/lay/engine/layout.ts';
import type { Nest } from '../../../src/lay/engine/nest.ts';
import { beginSearch } from '../../../src/lay/engine/nest.ts';
import { nest } from './nested.ts';
import { faults } from './judge.ts';
import { rounds, someKinds } from './polygons.ts';
import { tries } from '../../support/thorough.ts';

const instance: fc.Arbitrary<Instance> = fc.record({
  width: fc.integer({ min: 900, max: 1600 }),
  kinds: someKinds(fc.integer({ min: 0, max: 4 }), 4),
});

const mixed = [
  { outline: [0, 0, 300, 0, 300, 200], rotations: [0, 180], demand: 5 },
  { outline: [0, 0, 200, 0, 240, 150, 100, 260, 0, 150], rotations: [0, 180], demand: 4 },
];

describe('nest', () => {
  it('lays every item once, in an allowed turn, in the strip and over no other, at any budget', () => {
    fc.assert(
      fc.property(instance, fc.integer({ min: 1, max: 60 }), fc.nat(99), (one, count, seed) => {
        const found: Nest[] = [];
        const ready = prepared(one);
        const best = nest(ready, seed, { used: rounds(count), found: (each) => found.push(each) });
        expect(faults(one, best)).toEqual([]);
        // Whatever is found on the way may be cut too.
        for (const each of found) expect(faults(one, each)).toEqual([]);
        const lengths = found.map(({ length }) => length);
        expect(lengths).toEqual(lengths.toSorted((a, b) => b - a));
      }),
      { numRuns: tries(15, 40) },
    );
  });

  it('searches: more rounds give a shorter layout', () => {
    const ready = prepared({ width: 720, kinds: mixed });
    const [little, much] = [1, 1500].map((count) => nest(ready, 1, { used: rounds(count) }).length);
    expect(much!).toBeLessThan(little!);
    // Five triangles of 30 000 and four pentagons of 46 200 [D, shoelace]: shorter than full there is none.
    expect(much!).toBeGreaterThanOrEqual((5 * 30_000 + 4 * 46_200) / 720);
  });

  it.each([1, 2])('gone on with in steps is the same search as in one (seed %i)', (seed) => {
    const ready = prepared({ width: 720, kinds: mixed });
    const after = (shares: readonly number[]): Layout => {
      let count = 0;
      let end = 0;
      // To ask once more at the end of a step costs nothing.
      const used = (): number => (count / 2000 < end ? count++ : count) / 2000;
      const search = beginSearch(ready, seed, { used });
      for (const share of shares) {
        end = share;
        search.until(share);
      }
      return search.best;
    };
    expect(after([0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 1])).toEqual(after([1]));
  });

  // Items strewn about may come apart in a longer strip than they had before.
  it.each([1, 3, 5])(
    'begun from items strewn about (seed %i) tells only of shorter layouts',
    (seed) => {
      const [triangle, pentagon] = mixed;
      const few = [
        { ...triangle!, demand: 2 },
        { ...pentagon!, demand: 1 },
      ];
      for (const kinds of [few, mixed]) {
        const lengths: number[] = [];
        const found = ({ length }: Nest): void => {
          lengths.push(length);
        };
        const ready = prepared({ width: 700, kinds });
        const search = beginSearch(ready, seed, { used: rounds(300), found }, true);
        search.until(1);
        expect(lengths).toEqual(lengths.toSorted((a, b) => b - a));
        expect(search.best.length).toBe(lengths.at(-1));
      }
    },
  );

  it('lays items in the holes of others', () => {
    const kinds = [
      {
        outline: [0, 0, 600, 0, 600, 500, 0, 500],
        holes: [[100, 100, 100, 400, 500, 400, 500, 100]],
        rotations: [0],
        demand: 1,
      },
      { outline: [0, 0, 390, 0, 390, 290, 0, 290], rotations: [0], demand: 1 },
    ];
    const { length } = nest(prepared({ width: 500, kinds }), 1, { used: rounds(200) });
    expect(length).toBeCloseTo(600, 3);
  });

  it('of nothing is nothing', () => {
    const kinds = [{ outline: [0, 0, 9, 0, 9, 9], rotations: [0], demand: 0 }];
    const empty = { length: 0, placements: [] };
    expect(nest(prepared({ width: 10, kinds }), 1, { used: rounds(5) })).toEqual(empty);
  });
});
