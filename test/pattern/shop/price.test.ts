import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Money } from '../../../src/pattern/shop/price.ts';
import {
  moneyOf,
  priceOf,
  priceSchema,
  shareOut,
  sumOfMoney,
  wordMoney,
} from '../../../src/pattern/shop/price.ts';

const amount = fc.record({
  minor: fc.integer({ min: 0, max: 1e9 }),
  digits: fc.integer({ min: 0, max: 4 }),
  currency: fc.constantFrom('EUR', 'kr', '¥'),
});

describe('a price', () => {
  it.each(['24.50 EUR', '7 kr', '0.005 Fr.', '1200 ¥', '3.10 euro and cents'])(
    '"%s" is read and written as it was',
    (text) => {
      expect(priceSchema.safeParse(text).success).toBe(true);
      expect(wordMoney(moneyOf(text))).toBe(text);
    },
  );

  it.each(['24,50 EUR', 'EUR 24.50', '24.50', '-3 EUR', '1e3 EUR', '24.50EUR', '.5 EUR', ''])(
    '"%s" is none',
    (text) => expect(priceSchema.safeParse(text).success).toBe(false),
  );

  it('is a whole number of the smallest unit', () => {
    expect(moneyOf('24.50 EUR')).toEqual({ minor: 2450, digits: 2, currency: 'EUR' });
    expect(moneyOf('0.005 X')).toEqual({ minor: 5, digits: 3, currency: 'X' });
  });

  it('of a length is rounded half up, once', () => {
    const price = moneyOf('24.50 EUR');
    // [D] By hand: 18.14 m at 24.50 are 444.43; 0.01 m are 0.245, so 0.25; 0.03 m are 0.735, so 0.74.
    expect(wordMoney(priceOf(price, 1814, 100))).toBe('444.43 EUR');
    expect(wordMoney(priceOf(price, 1, 100))).toBe('0.25 EUR');
    expect(wordMoney(priceOf(price, 3, 100))).toBe('0.74 EUR');
    expect(wordMoney(priceOf(price, 0, 100))).toBe('0.00 EUR');
  });

  it('is never off by more than half the smallest unit', () => {
    fc.assert(
      fc.property(amount, fc.integer({ min: 0, max: 1e6 }), (price, count) => {
        const exact = BigInt(price.minor) * BigInt(count);
        const twice = 200n * BigInt(priceOf(price, count, 100).minor) - 2n * exact;
        expect(twice > -100n && twice <= 100n).toBe(true);
      }),
    );
  });
});

describe('a sum of money', () => {
  it('keeps currencies apart and takes the finer unit', () => {
    const sums = sumOfMoney(['1.5 EUR', '7 kr', '0.25 EUR'].map(moneyOf));
    expect(sums.map(wordMoney)).toEqual(['1.75 EUR', '7 kr']);
    expect(sumOfMoney([])).toEqual([]);
  });

  it('is exact: in whole units of the finest, it is their sum', () => {
    const inFinest = ({ minor, digits }: Money): bigint =>
      BigInt(minor) * 10n ** BigInt(4 - digits);
    fc.assert(
      fc.property(fc.array(amount), (amounts) => {
        const sums = sumOfMoney(amounts);
        expect(sums.map(({ currency }) => currency).sort()).toEqual(
          [...new Set(amounts.map(({ currency }) => currency))].sort(),
        );
        for (const sum of sums) {
          const own = amounts.filter(({ currency }) => currency === sum.currency);
          expect(inFinest(sum)).toBe(own.map(inFinest).reduce((a, b) => a + b, 0n));
        }
      }),
    );
  });
});

describe('sharing out', () => {
  it('adds up to the whole, each within one of its due, none below it where nothing is left', () => {
    const weights = fc.array(fc.integer({ min: 0, max: 5e7 }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e7 }), weights, (total, shares) => {
        const sum = shares.reduce((a, b) => a + b, 0);
        const out = shareOut(total, shares);
        if (sum === 0) {
          expect(out).toEqual(shares.map(() => 0));
          return;
        }
        expect(out.reduce((a, b) => a + b, 0)).toBe(total);
        for (const [i, share] of out.entries()) {
          expect(Math.abs(share - (total * shares[i]!) / sum)).toBeLessThan(1);
        }
      }),
    );
  });

  it('gives what is left to the largest remainders', () => {
    // [D] 100 by 1:1:1: thirds, one left to the first. 10 by 3:4: 4.29 and 5.71.
    expect(shareOut(100, [1, 1, 1])).toEqual([34, 33, 33]);
    expect(shareOut(10, [3, 4])).toEqual([4, 6]);
  });
});
