import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { readRun } from '../../src/run/run-file.ts';
import { commandIn } from '../cli/command-in.ts';
import type { Files } from '../support/wren.ts';
import { inFolder, runFile, wren, wrenOptions } from '../support/wren.ts';

const template = 'patterns/week.csv';

/** The Wren with options, and its run with the orders in a CSV. */
const withOptions: Files = {
  ...wren,
  ...wrenOptions,
  [runFile]: 'title: Wren\ncutter: long-bay\norders: week.csv\n',
};

describe('a template for orders', () => {
  it.each([
    [[], ','],
    [['--semicolons'], ';'],
  ])('with %j has columns that are read once they are filled in', async (more, separator) => {
    await inFolder(withOptions, async (root) => {
      const args = ['orders', '--template', template, '--set', 'wren', ...more];
      const { code, stdout } = await commandIn(root, args);
      expect(code).toBe(0);
      expect(stdout).toContain('no order yet');
      const text = readFileSync(join(root, template), 'utf8');
      const { data, meta } = Papa.parse<string[]>(text.trimEnd());
      expect([data.length, meta.delimiter]).toEqual([1, separator]);
      const said: Record<string, string> = {
        order: 'A7',
        set: 'wren',
        hand: 'LHD',
        alone: 'mat-left rest',
        'options.lock': 'yes',
        'options.size': 'long',
      };
      const row = data[0]!.map((heading) => said[heading] ?? '');
      expect(row.filter((cell) => cell !== '')).toHaveLength(Object.keys(said).length);
      appendFileSync(join(root, template), `${row.join(separator)}\n`);
      expect(readRun(join(root, runFile)).orders).toMatchObject([
        { order: 'A7', alone: ['mat-left', 'rest'], options: { lock: true, size: 'long' } },
      ]);
    });
  });

  it('has no column of options without a set, and holds no order', async () => {
    await inFolder(withOptions, async (root) => {
      expect((await commandIn(root, ['orders', '--template', template])).code).toBe(0);
      expect(readFileSync(join(root, template), 'utf8')).not.toContain('options');
      const { code, stderr } = await commandIn(root, ['cut', runFile]);
      expect(code).toBe(2);
      expect(stderr).toMatch(/patterns\/week\.csv: there is no order in this file\./);
    });
  });

  it('is never written over a file, nor where it would not be found', async () => {
    await inFolder({ ...withOptions, [template]: 'mine' }, async (root) => {
      const again = await commandIn(root, ['orders', '--template', template]);
      expect(again.code).toBe(2);
      expect(again.stderr).toContain('patterns/week.csv: this file exists already. Name another');
      expect(readFileSync(join(root, template), 'utf8')).toBe('mine');
      const other = await commandIn(root, ['orders', '--template', 'patterns/week.txt']);
      expect(other.stderr).toContain('does not end in .csv');
      const unknown = await commandIn(root, [
        'orders',
        '--template',
        'patterns/new.csv',
        '--set',
        'tit',
      ]);
      expect(unknown.stderr).toContain('patterns/tit/set.yaml: there is no set file here.');
      expect(existsSync(join(root, 'patterns/new.csv'))).toBe(false);
    });
  });
});

describe('a run with its orders in a CSV', () => {
  const csv = 'order,set,hand,alone,binding\nA1,wren,RHD,rest,black\n';
  it('is cut, and its record lists the CSV among the inputs', async () => {
    await inFolder({ ...withOptions, [template]: csv }, async (root) => {
      const { code, stderr } = await commandIn(root, ['cut', runFile, '--effort', '1']);
      expect([code, stderr]).toEqual([0, '']);
      const record = JSON.parse(readFileSync(join(root, 'out/wren-week/run.json'), 'utf8'));
      const inputs = record.inputs.map(({ file }: { file: string }) => file);
      expect(inputs).toContain('week.csv');
    });
  });

  it('has later findings point to the line and the column', async () => {
    const wrong = csv.replace('rest,black', 'rist,black');
    await inFolder({ ...withOptions, [template]: wrong }, async (root) => {
      const { code, stderr } = await commandIn(root, ['cut', runFile]);
      expect(code).toBe(2);
      expect(stderr).toMatch(/patterns\/week\.csv:2, column alone: order "A1" names "rist"/);
    });
  });
});
