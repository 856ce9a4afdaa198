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
        const goOn = (): boolean => ++asked < 3000;
        if (!scatter(ready, moving, 0, goOn, random)) return;
        apart++;
        expect(faults(one, nestOf(ready, moving.layout))).toEqual([]);
      }),
      { numRuns: runs },
    );
    // Nearly all come apart in so many steps.
    expect(apart).toBeGreaterThan(runs / 2);
  });

  it('draws the items apart until they come free, where the strip was far too short at first', () => {
    // Only three squares have room side by side, so no strip shorter than 300 can hold them.
    const kinds = [{ outline: [0, 0, 30, 0, 30, 30, 0, 30], rotations: [0], demand: 30 }];
    const ready = prepared({ width: 120 - 1e-3, kinds });
    const random = seededRandom(5);
    const moving = separator(ready.problem, random);
    expect(scatter(ready, moving, 0, () => true, random)).toBe(true);
    expect(moving.layout.length).toBeGreaterThanOrEqual(300 - 1e-3);
    expect(faults(ready.instance, nestOf(ready, moving.layout))).toEqual([]);
  });

  it('says so where the items did not come apart in time', () => {
    const kinds = [{ outline: [0, 0, 90, 0, 90, 90], rotations: [0], demand: 9 }];
    const ready = prepared({ width: 100, kinds });
    const random = seededRandom(1);
    expect(scatter(ready, separator(ready.problem, random), 0, () => false, random)).toBe(false);
  });
});
