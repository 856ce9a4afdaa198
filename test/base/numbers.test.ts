import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimal, exact, rounded } from '../../src/base/numbers.ts';

const anyNumber = fc.double({ noNaN: true, noDefaultInfinity: true });

describe('exact', () => {
  it('is read back to the last bit, and never has an exponent', () => {
    fc.assert(
      fc.property(anyNumber, (value) => {
        const text = exact(value);
        expect(text).toMatch(/^-?\d+(\.\d+)?$/);
        expect(Number(text)).toBe(value + 0);
      }),
      { numRuns: 1000 },
    );
  });

  it.each([
    [0, '0'],
    [-0, '0'],
    [12, '12'],
    [-0.5, '-0.5'],
    [1e-7, '0.0000001'],
    [1.5e21, '1500000000000000000000'],
    [0.1 + 0.2, '0.30000000000000004'],
  ])('writes %d as %s', (value, text) => {
    expect(exact(value)).toBe(text);
  });
});

describe('decimal', () => {
  it('is within half of its last decimal, without trailing zeros or minus zero', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
        const text = decimal(value, 3);
        expect(text).toMatch(/^-?\d+(\.\d{0,2}[1-9])?$/);
        expect(text).not.toBe('-0');
        expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(0.0005 + 1e-9);
        expect(rounded(value, 3)).toBe(Number(text));
      }),
    );
  });

  it.each([NaN, Infinity, -Infinity])('refuses %d, as exact does', (value) => {
    expect(() => decimal(value, 3)).toThrow(RangeError);
    expect(() => exact(value)).toThrow(RangeError);
  });
});
