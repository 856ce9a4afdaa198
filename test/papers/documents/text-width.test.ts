import { createRequire } from 'node:module';
import fc from 'fast-check';
import { openSync } from 'fontkit';
import type { Font } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { widthOfText } from '../../../src/papers/documents/pdf.ts';
import { wrapped } from '../../../src/papers/svg/wrap.ts';

const { resolve } = createRequire(import.meta.url);

const letters = fc.constantFrom(...'AVTLWYPof.,-ijÄßé0123456789()/ ');
const line = fc.array(letters, { maxLength: 60 }).map((all) => all.join(''));

describe('the width of a text', () => {
  it('is that of the whole line as the font sets it, though words are measured one by one', () => {
    for (const [name, bold] of [
      ['DejaVuSans', false],
      ['DejaVuSans-Bold', true],
    ] as const) {
      const font = openSync(resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`)) as Font;
      fc.assert(
        fc.property(line, (text) => {
          const em = font.layout(text).advanceWidth / font.unitsPerEm;
          // 10 points of 1/72 inch, in mm.
          expect(widthOfText(text, 10, bold)).toBeCloseTo((em * 10 * 25.4) / 72, 9);
        }),
      );
    }
  });
});

describe('wrapped', () => {
  const length = (text: string): number => text.length;

  it('keeps a word whole where it fits, and breaks one that is longer than a line', () => {
    expect(wrapped('one three five', 5, length)).toEqual(['one', 'three', 'five']);
    expect(wrapped('abcdefgh ij', 3, length)).toEqual(['abc', 'def', 'gh', 'ij']);
    expect(wrapped('  ', 3, length)).toEqual([]);
  });

  it('measures no word letter by letter that fits: that would take most of the time of a paper', () => {
    let asked = 0;
    wrapped('a-word-of-letters', 100, (text) => (asked++, text.length));
    expect(asked).toBeLessThan(4);
  });
});
