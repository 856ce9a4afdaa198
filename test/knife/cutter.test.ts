import { describe, expect, it } from 'vitest';
import { cutterSchema } from '../../src/knife/cutter.ts';
import { longBay, smallTable } from './sample-parts.ts';

function messagesFor(sheet: object): string {
  const result = cutterSchema.safeParse(sheet);
  return result.success
    ? ''
    : result.error.issues.map(({ path, message }) => `${path.join('.')}: ${message}`).join('\n');
}

const { name: _, ...table } = smallTable;
const { name: __, ...bay } = longBay;

describe('a cutter profile', () => {
  it('of the product is one of each kind', () => {
    expect([longBay, smallTable].map(({ name, knife }) => [name, knife.kind])).toEqual([
      ['long-bay', 'tangential'],
      ['small-table', 'trailing'],
    ]);
  });

  it.each([
    ['a cut above the bed', { ...bay, heights: { travel: 18, cut: 1 } }, /heights\.cut: .*<=0/],
    ['travel in the bed', { ...bay, heights: { travel: 0, cut: -0.5 } }, /heights\.travel: .*>0/],
    ['a feed of nothing', { ...bay, feeds: { ...bay.feeds, cut: 0 } }, /feeds\.cut: .*>0/],
    [
      'a swivel at cut depth',
      { ...table, knife: { ...table.knife, swivelDepth: -0.3 } },
      /knife\.swivelDepth: .*more than heights\.cut \(-0\.3\) and less than heights\.travel \(15\)/,
    ],
    [
      'a swivel above travel',
      { ...table, knife: { ...table.knife, swivelDepth: 15 } },
      /knife\.swivelDepth/,
    ],
    [
      'an axis that cannot run ahead of the tip',
      { ...table, bed: { ...table.bed, overrun: 5 } },
      /bed\.overrun: .*at least knife\.offset \(6\)/,
    ],
    [
      'two lines in one',
      { ...bay, program: { ...bay.program, before: ['G0 Z5\nG0 X0'] } },
      /program\.before\.0/,
    ],
    ['a key that is not known', { ...bay, colour: 'red' }, /colour/],
  ])('with %s is refused with what is allowed', (_name, sheet, message) => {
    expect(messagesFor(sheet)).toMatch(message);
  });
});
