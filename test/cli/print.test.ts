import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/base/findings.ts';
import { findingLines } from '../../src/cli/print.ts';

describe('lines of findings', () => {
  const tight: Finding = {
    severity: 'warning',
    rule: 'tight',
    message: 'a corner is too tight.',
    todo: 'Round it.',
    where: { piece: 'floor', part: 'floor-left', at: { x: 1, y: 2 } },
  };
  const elsewhere = { ...tight, where: { ...tight.where, at: { x: 3, y: 4.25 } } };
  const other = { ...tight, where: { ...tight.where, part: 'floor-right' } };
  const run: Finding = { ...tight, rule: 'run', message: 'this is so.', where: {} };

  it('name all places of what is so in several, and the worst comes first', () => {
    const lines = findingLines([tight, run, other, { ...run, severity: 'error' }, elsewhere]);
    expect(lines).toEqual([
      'ERROR  this is so. Round it.  [run]',
      'warning  piece floor, part floor-left, at 2 places in the vehicle (1.0, 2.0; 3.0, 4.3): a corner is too tight. Round it.  [tight]',
      'warning  this is so. Round it.  [run]',
      'warning  piece floor, part floor-right, at 1.0, 2.0 in the vehicle: a corner is too tight. Round it.  [tight]',
    ]);
  });

  it('stand for each finding that points nowhere', () => {
    expect(findingLines([run, run])).toHaveLength(2);
  });
});
