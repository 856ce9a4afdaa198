import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Instance } from '../../../src/lay/engine/instance.ts';
import { prepared } from '../../../src/lay/engine/instance.ts';
import { nestOf } from '../../../src/lay/engine/nest.ts';
import { seededRandom } from '../../../src/lay/engine/random.ts';
import { scatter } from '../../../src/lay/engine/scatter.ts';
import { separator } from '../../../src/lay/engine/separate.ts';
import { faults } from './judge.ts';
import { someKinds } from './polygons.ts';
import { tries } from '../../support/thorough.ts';

const instance: fc.Arbitrary<Instance> = fc.record({
  width: fc.integer({ min: 900, max: 1600 }),
  kinds: someKinds(fc.integer({ min: 1, max: 3 }), 3),
});

describe('scatter', () => {
  it('gives layouts without overlaps', () => {
    const runs = tries(8, 20);
    let apart = 0;
    fc.assert(
      fc.property(instance, fc.nat(999), (one, seed) => {
        const ready = prepared(one);
        const random = seededRandom(seed);
        const moving = separator(ready.problem, random);
        let asked = 0;
        if (!scatter(ready, moving, () => ++asked < 3000, random)) return;
        apart++;
        expect(faults(one, nestOf(ready, moving.layout))).toEqual([]);
      }),
      { numRuns: runs },
    );
    // Nearly all come apart in so many steps.
    expect(apart).toBeGreaterThan(runs / 2);
  });

  it('says so where the items did not come apart in time', () => {
    const kinds = [{ outline: [0, 0, 90, 0, 90, 90], rotations: [0], demand: 9 }];
    const ready = prepared({ width: 100, kinds });
    const random = seededRandom(1);
    expect(scatter(ready, separator(ready.problem, random), () => false, random)).toBe(false);
  });
});
