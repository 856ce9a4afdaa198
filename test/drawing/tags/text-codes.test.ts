import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeText, encodeText, plainMtext } from '../../../src/drawing/tags/text-codes.ts';

describe('codes in texts', () => {
  it.each([
    ['%%c12 %%p0.5 at 90%%d', 'Ø12 ±0.5 at 90°'],
    ['%%C %%P %%D', 'Ø ± °'],
    ['%%uTUB%%u %%oup%%O', 'TUB up'],
    ['100%%% wool', '100% wool'],
    ['100% wool', '100% wool'],
    ['%%065%%066', 'AB'],
    ['T\\U+00FCr', 'Tür'],
    ['\\u+00e9', 'é'],
    ['\\U+D83D\\U+DE00', '😀'],
  ])('%s reads %s', (written, read) => expect(decodeText(written)).toBe(read));

  it('are undone by decoding, whatever the text says', () => {
    const unit = fc.constantFrom('%', '%%', 'd', 'c', '\\', '\\U+', '0041', 'ü', '😀', ' ', '1');
    fc.assert(
      fc.property(fc.array(unit), (units) => {
        const text = units.join('');
        expect(encodeText(text)).toMatch(/^[ -~]*$/);
        expect(decodeText(encodeText(text))).toBe(text);
      }),
    );
  });
});

describe('the plain text of an MTEXT', () => {
  it.each([
    ['A\\PB', 'A\nB'],
    ['{\\fArial|b0|i0|c0|p34;TUB} left', 'TUB left'],
    ['\\A1;\\C3;\\H2.5x;\\W0.8;\\Q15;\\T1.1;TUB', 'TUB'],
    ['\\pi0,l4;TUB', 'TUB'],
    ['\\LTUB\\l \\Oup\\o \\Kno\\k', 'TUB up no'],
    ['1\\S1/2; \\S+0.1^-0.2;', '11/2 +0.1/-0.2'],
    ['\\{braces\\} and \\\\', '{braces} and \\'],
    ['a\\~b^Ic^Jd', 'a b c\nd'],
    ['90%%d \\U+00D8', '90° Ø'],
  ])('%s is %j', (written, read) => expect(plainMtext(written)).toBe(read));
});
