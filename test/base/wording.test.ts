import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { counted, duration, metresUp, percent, withArticle } from '../../src/base/wording.ts';

describe('metresUp', () => {
  it('is never less than the length, and less than a centimetre more', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1e6, noNaN: true }), (mm) => {
        const text = metresUp(mm);
        expect(text).toMatch(/^\d+\.\d\d m$/);
        const said = Number.parseFloat(text) * 1000;
        expect(said).toBeGreaterThan(mm - 1e-6);
        expect(said).toBeLessThan(mm + 10);
      }),
    );
  });

  it.each([
    [0, '0.00 m'],
    [0.1, '0.01 m'],
    [3000, '3.00 m'],
    [3000.4, '3.01 m'],
    [18559.99, '18.56 m'],
    // A length that came out of sums.
    [0.1 + 0.2 + 9.7, '0.01 m'],
  ])('%f mm are %s', (mm, text) => {
    expect(metresUp(mm)).toBe(text);
  });
});

describe('duration', () => {
  it.each([
    [0, 'under 1 min'],
    [0.99, 'under 1 min'],
    [1, '1 min'],
    [12.4, '12 min'],
    [59.4, '59 min'],
    [59.6, '1 h 00 min'],
    [65, '1 h 05 min'],
    [600, '10 h 00 min'],
  ])('%f minutes are %s', (minutes, text) => {
    expect(duration(minutes)).toBe(text);
  });
});

describe('withArticle', () => {
  it('says an before a vowel', () => {
    expect(['roll', 'instance', 'Order'].map(withArticle)).toEqual([
      'a roll',
      'an instance',
      'an Order',
    ]);
  });
});

describe('counted and percent', () => {
  it('read as a person says it', () => {
    expect([0, 1, 2].map((n) => counted(n, 'part'))).toEqual(['0 parts', '1 part', '2 parts']);
    expect([0, 0.785, 1].map(percent)).toEqual(['0.0 %', '78.5 %', '100.0 %']);
  });
});
