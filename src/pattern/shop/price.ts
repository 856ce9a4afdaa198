import { z } from 'zod';

/** An amount of money as a whole number of its smallest units, so that sums are exact. */
export interface Money {
  /** How many of the smallest units: cents, if there are two digits behind the point. */
  readonly minor: number;
  /** Digits behind the point. */
  readonly digits: number;
  /** The currency as the file writes it. */
  readonly currency: string;
}

const written = /^(\d{1,9})(?:\.(\d{1,4}))? +(\S.*)$/;

/**
 * A price as it is written: "24.50 EUR". A number with a point, a blank, and the currency's name as the
 * shop writes it.
 */
export const priceSchema = z
  .string()
  .regex(written, 'a price is written like "24.50 EUR": figures, a blank, the currency');

/** The amount that a price names. */
export function moneyOf(price: string): Money {
  const [, whole, fraction = '', currency] = written.exec(price)!;
  return { minor: Number(whole! + fraction), digits: fraction.length, currency: currency! };
}

/** The amount with `digits` digits behind the point, at least as many as it has. */
function withDigits(money: Money, digits: number): Money {
  return { ...money, minor: money.minor * 10 ** (digits - money.digits), digits };
}

/**
 * The price of `count` units, if `per` units cost `price`. Both are whole numbers. Rounded half up to the
 * smallest unit of money.
 */
export function priceOf(price: Money, count: number, per: number): Money {
  const product = BigInt(price.minor) * BigInt(count);
  return { ...price, minor: Number((2n * product + BigInt(per)) / (2n * BigInt(per))) };
}

/** The sum for each currency, in the order in which the currencies first occur. */
export function sumOfMoney(amounts: readonly Money[]): Money[] {
  const sums = new Map<string, Money>();
  for (const amount of amounts) {
    const sum = sums.get(amount.currency) ?? { ...amount, minor: 0 };
    const digits = Math.max(sum.digits, amount.digits);
    const minor = withDigits(sum, digits).minor + withDigits(amount, digits).minor;
    sums.set(amount.currency, { ...amount, digits, minor });
  }
  return [...sums.values()];
}

/** An amount in words: "444.43 EUR". */
export function wordMoney({ minor, digits, currency }: Money): string {
  const figures = String(minor).padStart(digits + 1, '0');
  const point = figures.length - digits;
  return `${figures.slice(0, point)}${digits === 0 ? '' : `.${figures.slice(point)}`} ${currency}`;
}

/**
 * Divides a whole number into whole shares by weights, so that the shares add up to it. Shares are
 * rounded down; what is left over goes, one each, to those with the largest remainders, the first of
 * equal ones first. All shares are 0 if no weight is positive.
 */
export function shareOut(total: number, weights: readonly number[]): number[] {
  const sum = weights.reduce((a, b) => a + b, 0);
  if (sum <= 0) return weights.map(() => 0);
  const exact = weights.map((weight) => (total * weight) / sum);
  const shares = exact.map(Math.floor);
  const left = total - shares.reduce((a, b) => a + b, 0);
  const byRemainder = exact
    .map((value, i) => ({ i, rest: value - Math.floor(value) }))
    .sort((a, b) => b.rest - a.rest || a.i - b.i);
  for (const { i } of byRemainder.slice(0, left)) shares[i] = shares[i]! + 1;
  return shares;
}
