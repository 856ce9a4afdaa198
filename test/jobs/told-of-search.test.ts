import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/base/findings.ts';
import { cut } from '../../src/jobs/cut.ts';
import type { LayOptions } from '../../src/jobs/lay-materials.ts';
import { readRunRecord } from '../../src/program/record/record.ts';
import type { RunRecord } from '../../src/program/record/run-record.ts';
import type { Files } from '../support/wren.ts';
import { inFolder, replaced, runFile, wren } from '../support/wren.ts';

const ofSearch = new Set([
  'hardly-searched',
  'stopped',
  'nothing-gained',
  'nothing-to-begin-with',
  'dealt-anew',
  'empty-roll',
]);

/** What is told of the search after a run of the files: a second run, if there is one to begin with. */
async function toldAfter(
  options: LayOptions,
  files: Files = wren,
  changed?: (first: RunRecord) => RunRecord,
): Promise<Finding[]> {
  return inFolder(files, async (root) => {
    const out = join(root, 'out', 'wren-week');
    const request = { runFile: join(root, runFile), sharedFolder: join(root, 'shared'), out };
    const run = async (how: LayOptions): Promise<readonly Finding[]> =>
      (await cut({ ...request, force: true, ...how })).findings;
    const first = await run(options);
    if (changed === undefined) return first.filter(({ rule }) => ofSearch.has(rule));
    const from = changed(readRunRecord(join(out, 'run.json')));
    const second = await run({ ...options, from });
    return second.filter(({ rule }) => ofSearch.has(rule));
  });
}

function rulesOf(findings: readonly Finding[]): string[] {
  return findings.map(({ rule }) => rule);
}

/** Orders of two sets and of one, and two rolls of the loop carpet; one long enough for all. */
function withRolls(length: number): Files {
  const rolls = `loop: [{ name: long, length: 9000, dyeLot: "7" }, { name: scrap, length: ${length}, dyeLot: "6" }]`;
  return replaced(wren, runFile, 'loop: { length: 9000, dyeLot: "7" }', rolls);
}

const once: LayOptions = { limit: { rounds: 1 } };

describe('a search that had no time', () => {
  it('is told, with the cloths', async () => {
    const [told, ...others] = await toldAfter({ limit: { seconds: 0 } });
    expect(others).toEqual([]);
    expect(told).toMatchObject({ severity: 'note', rule: 'hardly-searched' });
    for (const cloth of ['loop', 'board', 'rubber']) expect(told!.message).toContain(cloth);
  });

  it('is not told where rounds are counted', async () => {
    expect(await toldAfter(once)).toEqual([]);
  });
});

describe('a search that is stopped, to cut the best so far', () => {
  it('is told, with the cloths that it had not come to', async () => {
    const stop = new AbortController();
    const told = await toldAfter({
      ...once,
      signal: stop.signal,
      keepBest: true,
      progress: () => stop.abort(),
    });
    expect(rulesOf(told)).toEqual(['stopped']);
    expect(told[0]!.message).toMatch(
      /best so far; (board and rubber|rubber and board) were hardly/,
    );
  });
});

describe('a search that begins with an earlier run', () => {
  it('is told if no lay became shorter', async () => {
    expect(rulesOf(await toldAfter(once, wren, (first) => first))).toEqual(['nothing-gained']);
  });

  it('is not told if one did', async () => {
    const longer = (first: RunRecord): RunRecord => ({
      ...first,
      lays: first.lays.map((lay, i) => (i === 0 ? { ...lay, length: lay.length + 1 } : lay)),
    });
    expect(await toldAfter(once, wren, longer)).toEqual([]);
  });

  it('is told if that was of other rolls', async () => {
    const other = (first: RunRecord): RunRecord => ({
      ...first,
      lays: first.lays.map((lay) => ({ ...lay, roll: 'another' })),
    });
    expect(rulesOf(await toldAfter(once, wren, other))).toEqual(['nothing-to-begin-with']);
  });
});

describe('a set that lies on another roll than in the earlier run', () => {
  it('is told, with both rolls', async () => {
    const other = (first: RunRecord): RunRecord => ({
      ...first,
      lays: first.lays.map((lay) =>
        lay.roll === null ? lay : { ...lay, roll: lay.roll === 'long' ? 'scrap' : 'long' },
      ),
    });
    const told = await toldAfter(once, withRolls(10_000), other);
    expect(rulesOf(told)).toEqual(['dealt-anew', 'empty-roll']);
    expect(told[0]!.message).toContain('from loop-scrap to loop-long');
  });
});

describe('a roll that nothing lies on', () => {
  it('is told by name, with why no set can lie on it', async () => {
    const told = await toldAfter(once, withRolls(100));
    expect(rulesOf(told)).toEqual(['empty-roll']);
    expect(told[0]!.message).toMatch(/nothing lies on loop-scrap: no set .* even the smallest has/);
  });

  it('is told as not needed where the rolls before it had room for all', async () => {
    const told = await toldAfter(once, withRolls(10_000));
    expect(told.map(({ message }) => message)).toEqual([
      'nothing lies on loop-scrap: it was not needed.',
    ]);
  });
});
