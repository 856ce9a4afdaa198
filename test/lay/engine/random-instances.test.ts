import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Instance } from '../../../src/lay/engine/instance.ts';
import { prepared } from '../../../src/lay/engine/instance.ts';
import { beginSearch, nestOf } from '../../../src/lay/engine/nest.ts';
import { faults } from './judge.ts';
import { contours } from './outlines.ts';
import { rounds } from './polygons.ts';
import { tries } from '../../support/thorough.ts';

const instances = tries(60, 150);

/** ms; ten thousand (PILEWAY_THOROUGH=33) take some minutes, and longer where a fault is made smaller. */
const timeout = 3_600_000;

/** Strips wide enough for all outlines in any turn. */
const instance: fc.Arbitrary<Instance> = fc.record(
  {
    width: fc.double({ min: 500, max: 1200, noNaN: true }),
    kinds: fc.array(
      fc
        .tuple(
          contours,
          fc.constantFrom([0], [0, 180], [0, 90, 180, 270], [37.5, 217.5]),
          fc.integer({ min: 1, max: 3 }),
        )
        .map(([rings, rotations, demand]) => ({ ...rings, rotations, demand })),
      { minLength: 1, maxLength: 4 },
    ),
    fixed: fc.array(
      contours.filter(({ outline }) => Math.max(...outline.map(Math.abs)) < 1e4),
      {
        maxLength: 2,
      },
    ),
  },
  { requiredKeys: ['width', 'kinds'] },
);

describe('random instances', () => {
  it(
    `${instances} of convex and concave outlines, needles, tiny sides, holes and far origins are laid without faults`,
    () => {
      const budget = fc.integer({ min: 1, max: 30 });
      fc.assert(
        fc.property(
          instance,
          budget,
          fc.nat(999),
          fc.boolean(),
          (one, count, seed, blocksWanted) => {
            const ready = prepared(one);
            const search = beginSearch(ready, seed, { used: rounds(count) }, blocksWanted);
            search.until(1);
            expect(faults(one, nestOf(ready, search.best))).toEqual([]);
          },
        ),
        { numRuns: instances, interruptAfterTimeLimit: timeout, markInterruptAsFailure: true },
      );
    },
    timeout,
  );
});
