import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Instance, Kind } from '../../../src/lay/engine/instance.ts';
import { prepared } from '../../../src/lay/engine/instance.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
import { beginSearch, nestOf } from '../../../src/lay/engine/nest.ts';
import { faults, turnedBy } from './judge.ts';
import { oddContours } from './odd-outlines.ts';
import { contours } from './outlines.ts';
import { pairs, rounds } from './polygons.ts';
import { tries } from '../../support/thorough.ts';

const instances = tries(60, 150);

/** ms; ten thousand (PILEWAY_THOROUGH=33) take some minutes, and longer where a fault is made smaller. */
const timeout = 3_600_000;

/** Some of the turns are all but the same, and some are many. */
const rotations = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.constantFrom([0], [0, 180], [0, 90, 180, 270], [37.5, 217.5], [0, 360, 1e-9]),
  },
  {
    weight: 1,
    arbitrary: fc
      .integer({ min: 5, max: 16 })
      .map((n) => Array.from({ length: n }, (_, k) => (360 * k) / n)),
  },
);

const kind: fc.Arbitrary<Kind> = fc
  .tuple(fc.oneof(contours, oddContours), rotations, fc.integer({ min: 1, max: 3 }))
  .map(([rings, turns, demand]) => ({ ...rings, rotations: turns, demand }));

const kinds = fc.array(kind, { minLength: 1, maxLength: 4 });

/** Wide enough for all outlines in any turn. */
const ample = fc.double({ min: 500, max: 1200, noNaN: true });

/** As wide as the widest item needs in the turn in which it needs least, to the last bits. */
function exactWidth(items: readonly Kind[]): number {
  const heightAt = (ring: Ring, deg: number): number => {
    const ys = pairs(turnedBy(ring, deg)).map(([, y]) => y);
    return Math.max(...ys) - Math.min(...ys);
  };
  const least = items.map(({ outline, rotations: turns }) =>
    Math.min(...turns.map((deg) => heightAt(outline, deg))),
  );
  return Math.max(20, ...least);
}

const instance: fc.Arbitrary<Instance> = fc
  .record(
    {
      width: fc.option(ample, { nil: 'exact' as const, freq: 3 }),
      kinds,
      fixed: fc.array(
        fc
          .oneof(contours, oddContours)
          .filter(({ outline }) => Math.max(...outline.map(Math.abs)) < 1e4),
        { maxLength: 2 },
      ),
    },
    { requiredKeys: ['width', 'kinds'] },
  )
  .map(({ width, ...one }) => ({
    ...one,
    width: width === 'exact' ? exactWidth(one.kinds) : width,
  }));

describe('random instances', () => {
  it(
    `${instances} of all sorts of outlines, carelessly written ones among them, are laid without faults`,
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
