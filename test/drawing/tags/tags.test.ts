import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTags } from '../../../src/drawing/tags/tags.ts';

const plain = '0\nSECTION\n2\nENTITIES\n10\n1.5\n70\n3\n0\nENDSEC\n0\nEOF\n';

describe('tags', () => {
  it('carry the line of their group code', () => {
    expect(readTags(plain)[2]).toEqual({ code: 10, value: '1.5', line: 5 });
  });

  it('are the same whatever the line ends and the blanks around codes and numbers', () => {
    const ends = fc.constantFrom('\n', '\r\n', '\r');
    const blanks = fc.constantFrom('', ' ', '   ', '\t');
    fc.assert(
      fc.property(ends, blanks, blanks, (end, before, after) => {
        const padded = plain.replace(/^(\d+(\.\d+)?)$/gm, `${before}$1${after}`);
        expect(readTags(padded.replaceAll('\n', end))).toEqual(readTags(plain));
      }),
    );
  });

  it('may end without a line end, or with the Ctrl-Z of old systems', () => {
    expect(readTags(plain.trimEnd())).toEqual(readTags(plain));
    expect(readTags(`${plain}\u001a\n\n`)).toEqual(readTags(plain));
  });

  it('leave comments out', () => {
    expect(readTags(`999\nby hand\n${plain}`).map(({ code }) => code)).toEqual([0, 2, 10, 70, 0]);
  });

  it.each(['1', '-1.5', '+.5', '5.', '1e3', '-1.25E-3'])('take %s as a number', (value) => {
    const [tag] = readTags(`10\n${value}\n0\nEOF\n`);
    expect(Number(tag!.value)).toBe(Number(value));
  });

  it.each(['', 'NaN', 'Infinity', '0x10', '1e', '.', '1 2', '--1', '1_0'])(
    'do not take "%s" as one',
    (value) => expect(() => readTags(`10\n${value}\n0\nEOF\n`)).toThrow(/not a number/),
  );
});
