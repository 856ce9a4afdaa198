import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/base/findings.ts';
import { distinctFindings, wordPlace } from '../../src/base/findings.ts';

function found(where: Finding['where']): Finding {
  return { severity: 'error', rule: 'rule', message: 'wrong.', todo: 'Mend it.', where };
}

describe('the place of a finding', () => {
  const at = { x: 12, y: 40.54 };
  it.each([
    [{ file: 'a.dxf', line: 7, at }, 'a.dxf:7, at 12.0, 40.5'],
    [{ piece: 'mat', at }, "piece mat, at 12.0, 40.5 in the piece's drawing"],
    [
      { piece: 'mat', part: 'mat-left', hand: 'LHD' as const, at },
      'piece mat, part mat-left, in LHD, at 12.0, 40.5 in the vehicle',
    ],
  ])('says in which frame it is: %j', (where, words) => {
    expect(wordPlace(where)).toBe(words);
  });
});

describe('findings of several hands', () => {
  const on = (part: string, hand: 'RHD' | 'LHD'): Finding => found({ piece: 'mat', part, hand });

  it('are one, and name no hand, where both raise them', () => {
    const distinct = distinctFindings([on('a', 'RHD'), on('b', 'LHD'), on('a', 'LHD')]);
    expect(distinct).toEqual([found({ piece: 'mat', part: 'a' }), on('b', 'LHD')]);
  });

  it('keep their hand where one raises them, however often', () => {
    expect(distinctFindings([on('a', 'LHD'), on('a', 'LHD')])).toEqual([on('a', 'LHD')]);
  });
});
