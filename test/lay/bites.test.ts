import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Reach } from '../../src/lay/bites.ts';
import { bitesOf } from '../../src/lay/bites.ts';

const bed = 1000;

const reach = (size: fc.Arbitrary<number>, most: number): fc.Arbitrary<Reach> =>
  fc
    .tuple(fc.integer({ min: 0, max: most }), size)
    .map(([minX, long]) => ({ minX, maxX: minX + long }));

const whole = fc.integer({ min: 1, max: bed });
const any = fc.double({ min: 0.1, max: bed, noNaN: true });

/** The fewest beds of which every item lies on one whole: all choices of where they begin. */
function fewest(items: readonly Reach[]): number {
  const starts = [...new Set([0, ...items.map(({ minX }) => minX)])];
  let best = Infinity;
  for (let chosen = 0; chosen < 2 ** starts.length; chosen++) {
    const beds = starts.filter((_, i) => (chosen >> i) & 1);
    const isOnOne = ({ minX, maxX }: Reach): boolean =>
      beds.some((start) => minX >= start && maxX <= start + bed);
    if (items.every(isOnOne)) best = Math.min(best, beds.length);
  }
  return best;
}

describe('bites', () => {
  it('have every item once, whole on the bed, which is only ever fed on', () => {
    fc.assert(
      fc.property(fc.array(reach(any, 9000), { maxLength: 40 }), (items) => {
        const bites = bitesOf(items, bed);
        expect(bites.flatMap((bite) => bite.items)).toHaveLength(items.length);
        expect(new Set(bites.flatMap((bite) => bite.items))).toEqual(new Set(items));
        for (const [i, bite] of bites.entries()) {
          if (i > 0) expect(bite.start).toBeGreaterThan(bites[i - 1]!.start);
          for (const { minX, maxX } of bite.items) {
            expect(minX).toBeGreaterThanOrEqual(bite.start);
            expect(maxX).toBeLessThanOrEqual(bite.start + bed + 2e-4);
          }
        }
      }),
    );
  });

  it('are as few as can be', () => {
    fc.assert(
      fc.property(fc.array(reach(whole, 4000), { minLength: 1, maxLength: 8 }), (items) => {
        expect(bitesOf(items, bed)).toHaveLength(fewest(items));
      }),
    );
  });

  it('begin at whole millimetres, but for an item as long as the bed', () => {
    const starts = (...items: Reach[]): number[] => bitesOf(items, bed).map(({ start }) => start);
    expect(starts({ minX: 20, maxX: 900 }, { minX: 800.7, maxX: 1500 })).toEqual([0, 800]);
    expect(starts({ minX: 20, maxX: 900 }, { minX: 800.7, maxX: 1800.7 })).toEqual([0, 800.7]);
    expect(starts({ minX: 20, maxX: 900 }, { minX: 800.7, maxX: 1800.2 })).toEqual([0, 800.2]);
  });

  it('begin at the start of the roll, unless a feed before the first saves one', () => {
    const starts = (last: number): number[] =>
      bitesOf(
        [
          { minX: 20, maxX: 900 },
          { minX: 500, maxX: last },
        ],
        bed,
      ).map(({ start }) => start);
    expect(starts(1000)).toEqual([0]);
    expect(starts(1015)).toEqual([20]);
    expect(starts(1030)).toEqual([0, 500]);
  });

  it('are one where the bed has no end, and none of nothing', () => {
    expect(bitesOf([{ minX: 5, maxX: 9e6 }], Infinity)).toHaveLength(1);
    expect(bitesOf([], bed)).toEqual([]);
  });

  it('has an item longer than the bed all the same', () => {
    const items = [
      { minX: 10, maxX: 2000 },
      { minX: 2100, maxX: 2200 },
    ];
    expect(bitesOf(items, bed).map((bite) => bite.items.length)).toEqual([1, 1]);
  });
});
