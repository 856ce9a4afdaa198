import { expect, it } from 'vitest';
import { numberedLines } from '../../../src/program/writing/line-numbers.ts';

it('numbers lines of words in tens, and leaves comments and numbers of others alone', () => {
  const lines = ['(a)', 'G0 X1', '(b)', 'M5', 'N7 M0', '', 'M2'];
  const numbered = ['(a)', 'N10 G0 X1', '(b)', 'N20 M5', 'N7 M0', '', 'N30 M2'];
  expect([...numberedLines(lines)]).toEqual(numbered);
});

// NISTIR 6556, from memory: five digits.
it('begins anew before six digits', () => {
  const lines = [...numberedLines(Array.from({ length: 20_001 }, () => 'M5'))];
  expect(lines.slice(9997, 10_001)).toEqual(['N99980 M5', 'N99990 M5', 'N10 M5', 'N20 M5']);
  for (const line of lines) expect(line).toMatch(/^N[1-9]\d{1,4} M5$/);
});
