import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lineWidth } from '../../../src/papers/svg/label.ts';
import { wrapped } from '../../../src/papers/svg/wrap.ts';

describe('wrapped', () => {
  const word = fc
    .string({ unit: 'grapheme', minLength: 1, maxLength: 30 })
    .filter((w) => !/\s/.test(w));
  const words = fc.array(word, { maxLength: 12 });
  const width = fc.double({ min: 2, max: 40, noNaN: true });

  it('keeps every letter in its order, and no line wider than asked', () => {
    fc.assert(
      fc.property(words, width, (some, wide) => {
        const lines = wrapped(some.join(' '), wide);
        expect(lines.join('').replaceAll(' ', '')).toBe(some.join(''));
        for (const line of lines) expect(lineWidth(line)).toBeLessThanOrEqual(wide);
      }),
    );
  });

  it('breaks between words alone where they fit, and fills each line', () => {
    fc.assert(
      fc.property(words, (some) => {
        const wide = Math.max(1, ...some.map(lineWidth));
        const lines = wrapped(some.join(' '), wide);
        expect(lines.join(' ')).toBe(some.join(' '));
        for (const [i, line] of lines.slice(1).entries()) {
          const [first] = line.split(' ');
          expect(lineWidth(`${lines[i]!} ${first!}`)).toBeGreaterThan(wide);
        }
      }),
    );
  });
});
