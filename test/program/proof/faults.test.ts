import { describe, expect, it } from 'vitest';
import { refuse } from '../../../src/base/findings.ts';
import { attempt, fault, firstOfEach } from '../../../src/program/proof/faults.ts';

describe('faults', () => {
  it('of one rule, file and part are one, with the number of the others', () => {
    const a = { file: 'a.nc', part: 'mat' };
    const found = [
      fault('depth', 'too deep.', { ...a, line: 3 }),
      fault('depth', 'too deep.', { ...a, line: 5 }),
      fault('depth', 'too deep.', { file: 'a.nc', part: 'pad' }),
      fault('order', 'too early.', { ...a, line: 9 }),
      fault('depth', 'too deep.', { ...a, line: 7 }),
    ];
    expect(
      firstOfEach(found).map(({ message, where }) => [message, where.part, where.line]),
    ).toEqual([
      ['too deep. (2 more like it.)', 'mat', 3],
      ['too deep.', 'pad', undefined],
      ['too early.', 'mat', 9],
    ]);
  });

  it('of a refusal are its findings; what is a bug stays one', () => {
    expect(attempt(() => 5)).toEqual({ value: 5 });
    expect(attempt(() => refuse('file', 'gone.', ''))).toMatchObject({
      findings: [{ rule: 'file' }],
    });
    expect(() =>
      attempt(() => {
        throw new RangeError('a bug');
      }),
    ).toThrow(RangeError);
  });
});
