import { describe, expect, it } from 'vitest';
import { outside } from './outside.ts';
import { skippedLine } from './skipped.ts';

describe('the line about skipped tests', () => {
  it('counts what they need, the most wanted first', () => {
    const names = [
      'labels (skipped: needs poppler) > are read',
      'the page (skipped: needs Chromium) > opens',
      'the page (skipped: needs Chromium) > closes (but slowly)',
      'left out by -t',
    ];
    expect(skippedLine(names)).toBe('3 tests skipped: 2 need Chromium, 1 poppler');
  });

  it('says nothing where nothing is wanting', () => {
    expect(skippedLine(['left out by -t'])).toBe(null);
  });

  it('knows what outside() writes into a name', () => {
    const before = process.env['PILEWAY_SKIP_NOTHING'];
    try {
      delete process.env['PILEWAY_SKIP_NOTHING'];
      const { missing, note } = outside('a thing', false);
      expect(missing).toBe(true);
      expect(skippedLine([`works${note}`])).toBe('1 test skipped: 1 needs a thing');
      process.env['PILEWAY_SKIP_NOTHING'] = '1';
      expect(() => outside('a thing', false)).toThrow('needs a thing');
    } finally {
      if (before === undefined) delete process.env['PILEWAY_SKIP_NOTHING'];
      else process.env['PILEWAY_SKIP_NOTHING'] = before;
    }
  });
});
