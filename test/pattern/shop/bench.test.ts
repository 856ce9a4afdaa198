import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { ratesOf, readBench, worksOf } from '../../../src/pattern/shop/bench.ts';
import { benchText } from '../../support/coloured-wren.ts';

let shared: string;

beforeAll(() => {
  shared = mkdtempSync(join(tmpdir(), 'bench-'));
});

afterAll(() => {
  rmSync(shared, { recursive: true, force: true });
});

function read(text: string): ReturnType<typeof readBench> {
  writeFileSync(join(shared, 'bench.yaml'), text);
  return readBench(shared);
}

describe('bench.yaml', () => {
  it('may be missing', () => {
    expect(readBench(join(shared, 'nowhere'))).toBeNull();
  });

  it('is read as it is written', () => {
    expect(read(benchText)).toEqual({
      price: '32.00 EUR',
      minutes: { bind: 4, overlock: 1.5, sew: 6, pad: 10, board: 8 },
    });
    expect(read(benchText.replace('overlock: 1.5, ', ''))!.minutes!.overlock).toBeUndefined();
  });

  it('may say the order of work alone, and then charges nothing', () => {
    const bench = read('steps: [pad, sew, bind, turn, board]\n');
    expect(worksOf(bench)).toEqual(['pad', 'sew', 'bind', 'turn', 'board']);
    expect(ratesOf(bench)).toBeNull();
    // Common practice, without a source: what is flat is done first, what makes a part stiff last.
    expect(worksOf(read(benchText))).toEqual(['bind', 'sew', 'turn', 'board', 'pad']);
    expect(ratesOf(read(benchText))!.price).toBe('32.00 EUR');
  });

  it.each([
    ['no price', 'price: 32.00 EUR\n', ''],
    ['a price without its currency', '32.00 EUR', '32.00'],
    ['a work left out', 'sew: 6, ', ''],
    ['a negative time', 'pad: 10', 'pad: -1'],
    ['a time in words', 'pad: 10', 'pad: ten'],
    ['an unknown work', 'pad: 10', 'pads: 10'],
    ['an order of work with one twice', 'price', 'steps: [bind, bind, sew, turn, board]\nprice'],
    ['an order of work with one left out', 'price', 'steps: [bind, sew]\nprice'],
  ])('is refused with its line: %s', (_, from, to) => {
    try {
      read(benchText.replace(from, to));
      expect.unreachable();
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      expect(error.findings[0]!.where.file).toBe(join(shared, 'bench.yaml'));
      expect(error.findings[0]!.where.line).toBeGreaterThan(0);
    }
  });
});
