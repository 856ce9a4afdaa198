import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/base/findings.ts';
import { refuse } from '../../../src/base/findings.ts';
import { attempt, fault, firstOfEach } from '../../../src/program/proof/faults.ts';

describe('faults', () => {
  it('of one cause are one, with the other places where it shows', () => {
    const a = { file: 'out/a.nc', part: 'mat' };
    const found = [
      fault('depth', 'at Z 3 it is too deep.', { ...a, line: 3 }),
      fault('depth', 'at Z 5 it is too deep.', { ...a, line: 5 }),
      fault('depth', 'at Z 5 it is too deep.', { file: 'out/a.nc', part: 'pad' }),
      fault('order', 'too early.', { ...a, line: 9 }),
      fault('depth', 'it is turned.', { ...a, line: 4 }),
      fault('depth', 'at Z 4.5 it is too deep.', { file: 'out/b.nc', line: 7 }),
      fault('order', 'too early.', { ...a, line: 9 }),
    ];
    expect(firstOfEach(found).map(({ message, where }) => [message, where.line])).toEqual([
      ['at Z 3 it is too deep. (Also in line 5, pad, b.nc:7.)', 3],
      ['too early.', 9],
      ['it is turned.', 4],
    ]);
  });

  it('in very many places name the first of them', () => {
    const found = Array.from({ length: 40 }, (_, i) =>
      fault('depth', 'too deep.', { file: 'a.nc', line: i + 1 }),
    );
    const [{ message }] = firstOfEach(found) as [Finding];
    expect(message).toMatch(/^too deep\. \(Also in line 2, 3, .*, 13 and 27 more\.\)$/);
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
