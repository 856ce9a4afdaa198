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
  const letters = (text: string): number => text.length;

  it('keeps every letter in its order, and no line wider than asked', () => {
    fc.assert(
      fc.property(words, width, (some, wide) => {
        const lines = wrapped(some.join(' '), wide);
        expect(lines.join('').replaceAll(' ', '')).toBe(some.join(''));
        for (const line of lines) expect(lineWidth(line)).toBeLessThanOrEqual(wide);
      }),
    );
  });

  it('breaks between names alone where they fit, and fills each line', () => {
    const name = fc
      .array(fc.constantFrom(...'abmw-12'), { minLength: 1, maxLength: 30 })
      .map((all) => `x${all.join('')}x`);
    fc.assert(
      fc.property(fc.array(name, { minLength: 1, maxLength: 12 }), (some) => {
        const wide = Math.max(...some.map(lineWidth));
        const lines = wrapped(some.join(' '), wide);
        expect(lines.join(' ')).toBe(some.join(' '));
        for (const [i, line] of lines.slice(1).entries()) {
          const [first] = line.split(' ');
          expect(lineWidth(`${lines[i]!} ${first!}`)).toBeGreaterThan(wide);
        }
      }),
    );
  });

  // The examples in the text of rules LB25 and LB30 of UAX #14, and others with signs of the same classes.
  it.each([
    '$(12.35)',
    '2,1234',
    '(12)¢',
    '12.54¢',
    'person(s)',
    'e.g.',
    'can’t',
    '“quoted”',
    '2026-12-04',
    'Y\u00A013',
  ])('finds no place to end a line in %s', (text) => {
    const all = `床 ${text} ${text}`;
    expect(wrapped(all, text.length, letters)).toEqual(['床', text, text]);
  });

  it('breaks scripts without spaces between their signs, but not before what closes a phrase', () => {
    // LB13: no break before closing punctuation; LB14: none after opening; LB31: one between ideographs.
    expect(wrapped('床の敷物を縫う。', 7, letters)).toEqual(['床の敷物を縫', 'う。']);
    expect(wrapped('床敷「左」側', 3, letters)).toEqual(['床敷', '「左」', '側']);
    // LB26: a Korean syllable that is written letter by letter stays whole.
    expect(wrapped('\u1112\u1161\u11AB\u1100\u1173\u11AF', 4, letters)).toEqual([
      '\u1112\u1161\u11AB',
      '\u1100\u1173\u11AF',
    ]);
  });

  it('keeps a name whole where it fits on a line, and breaks one that does not behind its hyphens', () => {
    const text = 'Sew: E to wheel-box-side-left';
    expect(wrapped(text, 19, letters)).toEqual(['Sew: E to', 'wheel-box-side-left']);
    expect(wrapped(text, 15, letters)).toEqual(['Sew: E to', 'wheel-box-side-', 'left']);
    expect(wrapped('wheel-box-side-left', 6, letters)).toEqual(['wheel-', 'box-', 'side-', 'left']);
    const label = 'wheel-box-side-left.1.1041';
    expect(wrapped(label, 15, letters)).toEqual(['wheel-box-side-', 'left.1.1041']);
  });

  it('leaves a mark on its letter where a word must be broken between any two', () => {
    const signs = (text: string): number => text.replaceAll(/\p{M}/gu, '').length;
    expect(wrapped('ne\u0301ne\u0301', 2, signs)).toEqual(['ne\u0301', 'ne\u0301']);
  });
});
