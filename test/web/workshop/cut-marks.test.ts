import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { Refusal } from '../../../src/base/findings.ts';
import type { CutStep } from '../../../src/web/api/cut-steps.ts';
import {
  beginCutting,
  marksFileIn,
  readCutting,
  tickStep,
  untickStep,
} from '../../../src/web/workshop/cut-marks.ts';
import { shopForEach } from '../in-shop.ts';

const now = new Date('2026-05-04T09:30:00.000Z');
const rolls = [
  { roll: 'loop', bites: 3, hasRest: true },
  { roll: 'board', bites: 1, hasRest: false },
];
const files = { fingerprint: '0123456789ab', rolls };
const others = { fingerprint: 'ba9876543210', rolls };
const inShop = shopForEach();

function file(): string {
  return marksFileIn(inShop().shop, 'week');
}

function write(text: string): void {
  writeFileSync(file(), text);
}

function tick(roll: string, ...steps: CutStep[]): void {
  for (const step of steps) tickStep(inShop().shop, 'week', files, { roll, step }, now);
}

function ticked(of = files): string[] {
  return readCutting(inShop().shop, 'week', of).ticks.map(({ roll, step }) => `${roll} ${step}`);
}

/** What it is refused with. */
function refused(act: () => unknown): Refusal['findings'][number] {
  try {
    act();
  } catch (error) {
    if (error instanceof Refusal) return error.findings[0]!;
    throw error;
  }
  throw new Error('nothing was refused');
}

beforeEach(() => mkdirSync(inShop().shop.out, { recursive: true }));

describe('what is ticked of a run', () => {
  it('is nothing where there is no file', () => {
    expect(ticked()).toEqual([]);
    expect(existsSync(file())).toBe(false);
  });

  it('is kept in a file that says it a line each, with its time', () => {
    tick('loop', 'load', 'dry', 'bite 1');
    expect(ticked()).toEqual(['loop load', 'loop dry', 'loop bite 1']);
    const text = readFileSync(file(), 'utf8');
    expect(text).toContain('- { roll: loop, step: bite 1, at: 2026-05-04T09:30:00.000Z }\n');
    expect(parse(text).cuttings).toHaveLength(1);
    // Nothing half written is left beside it.
    expect(readdirSync(inShop().shop.out)).toEqual(['week.marks.yaml']);
  });

  it('is read as a person has written it, and their lines stay', () => {
    write(`# Night shift
cuttings:
  - files: 0123456789ab
    ticks:
      - { roll: loop, step: load, at: 2026-05-04T05:00:00Z } # by Jo
      - roll: loop
        step: dry
        at: 2026-05-04T05:10:00Z
`);
    tick('loop', 'bite 1');
    expect(ticked()).toEqual(['loop load', 'loop dry', 'loop bite 1']);
    const text = readFileSync(file(), 'utf8');
    expect(text).toContain('# Night shift\n');
    expect(text).toContain('05:00:00Z } # by Jo\n');
  });

  it('stays as it is where two windows tick one step', () => {
    tick('loop', 'load', 'dry', 'bite 1');
    const before = readFileSync(file(), 'utf8');
    tick('loop', 'bite 1');
    expect(readFileSync(file(), 'utf8')).toBe(before);
  });

  it('goes step by step: none is left out', () => {
    tick('loop', 'load');
    expect(refused(() => tick('loop', 'bite 1'))).toMatchObject({ rule: 'changed-since' });
    expect(refused(() => tick('rubber', 'load'))).toMatchObject({ rule: 'changed-since' });
    expect(ticked()).toEqual(['loop load']);
  });

  it('is taken back from its end, of each roll by itself', () => {
    tick('loop', 'load', 'dry');
    tick('board', 'load');
    const untick = (step: CutStep): void =>
      untickStep(inShop().shop, 'week', files, { roll: 'loop', step });
    expect(refused(() => untick('load'))).toMatchObject({ rule: 'changed-since' });
    untick('dry');
    untick('dry');
    untick('load');
    expect(ticked()).toEqual(['board load']);
  });
});

describe('what was ticked of files made before', () => {
  it('is not taken for the new files, and nothing of these is ticked before it is begun anew', () => {
    tick('loop', 'load', 'dry', 'bite 1', 'bite 2');
    const { shop } = inShop();
    expect(ticked(others)).toEqual([]);
    expect(readCutting(shop, 'week', others).before.map(({ step }) => step)).toEqual([
      'load',
      'dry',
      'bite 1',
      'bite 2',
    ]);
    const load = { roll: 'loop', step: 'load' } as const;
    const text = readFileSync(file(), 'utf8');
    refused(() => tickStep(shop, 'week', others, load, now));
    expect(readFileSync(file(), 'utf8')).toBe(text);
    // The same files, made once more, are those that were cut.
    expect(ticked()).toHaveLength(4);

    beginCutting(shop, 'week', others);
    expect(readCutting(shop, 'week', others)).toEqual({ ticks: [], before: [] });
    tickStep(shop, 'week', others, load, now);
    expect(ticked(others)).toEqual(['loop load']);
    // What was ticked is in the file still; the roll that it was ticked of is not on the machine any more.
    expect(parse(readFileSync(file(), 'utf8')).cuttings[0].ticks).toHaveLength(4);
    expect(ticked()).toEqual([]);
  });

  it('is kept where the same files are begun anew', () => {
    tick('loop', 'load');
    beginCutting(inShop().shop, 'week', files);
    expect(ticked()).toEqual([]);
    tick('loop', 'load', 'dry');
    const { cuttings } = parse(readFileSync(file(), 'utf8'));
    expect(cuttings.map(({ ticks }: { ticks: unknown[] }) => ticks.length)).toEqual([1, 2]);
  });
});

describe('a file of marks that cannot be read', () => {
  const head = 'cuttings:\n  - files: 0123456789ab\n    ticks:\n';
  const line = '      - { roll: loop, step: load, at: 2026-05-04T05:00:00Z }\n';
  it.each([
    ['is no YAML', `${head}${line}  - ]\n`, 5],
    ['has a step that there is not', `${head}${line}${line.replace('load', 'lunch')}`, 5],
    ['has a bite that there is not', `${head}${line}${line.replace('load', 'bite 4')}`, 5],
    ['has a roll that there is not', `${head}${line}${line.replace('loop', 'lop')}`, 5],
    ['has a time that is none', `${head}${line.replace('2026-05-04T05:00:00Z', 'noon')}`, 4],
    ['has a fingerprint that is none', head.replace('0123456789ab', 'mine') + line, 2],
  ])('%s: the line is told, nothing is ticked and nothing is written', (_, text, at) => {
    write(text);
    const { shop } = inShop();
    const { where, todo } = refused(() => readCutting(shop, 'week', files));
    expect(where).toMatchObject({ file: file(), line: at });
    expect(todo).not.toBe('');
    refused(() => tick('loop', 'dry'));
    refused(() => untickStep(shop, 'week', files, { roll: 'loop', step: 'load' }));
    expect(readFileSync(file(), 'utf8')).toBe(text);
  });

  it.each(['cuttings: many', ''])(
    'is not begun anew either: what it says may be wanted',
    (text) => {
      write(text);
      refused(() => beginCutting(inShop().shop, 'week', files));
      expect(readFileSync(file(), 'utf8')).toBe(text);
    },
  );
});
