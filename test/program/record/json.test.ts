import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { writeJson } from '../../../src/program/record/json.ts';

describe('JSON for people', () => {
  it('is JSON: another reader reads back what was written', () => {
    const six = fc
      .double({ min: -1e6, max: 1e6, noNaN: true })
      .map((x) => Math.round(x * 1e6) / 1e6 + 0);
    const leaf = fc.oneof(fc.string(), six, fc.boolean(), fc.constant(null));
    const { value } = fc.letrec<{ value: unknown }>((tie) => ({
      value: fc.oneof(
        { maxDepth: 4 },
        leaf,
        fc.array(tie('value'), { maxLength: 6 }),
        fc.dictionary(
          fc.string({ minLength: 1 }).filter((key) => key !== '__proto__'),
          tie('value'),
          { maxKeys: 6 },
        ),
      ),
    }));
    fc.assert(
      fc.property(value, (any) => {
        expect(JSON.parse(writeJson(any))).toEqual(any);
      }),
    );
  });

  it('keeps a contour in a line, however long, and breaks the rest', () => {
    const contour = Array.from({ length: 40 }, (_, i) => [i, i * 2, 0.5]);
    const text = writeJson({ label: 'a', contour, note: 'x'.repeat(90) });
    expect(text.split('\n').filter((line) => line.includes('contour'))).toHaveLength(1);
    expect(text.split('\n')).toHaveLength(6);
  });

  it('writes no exponents, no more than six decimals, and nothing for what is not there', () => {
    expect(writeJson({ a: 1e-7, b: 1 / 3, c: undefined, d: -0 })).toBe(
      '{ "a": 0, "b": 0.333333, "d": 0 }\n',
    );
    expect(() => writeJson([NaN])).toThrow(RangeError);
  });
});
