import { join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { parse, stringify } from 'yaml';
import type { LayOptions } from '../../src/jobs/lay-materials.ts';
import { layMaterials } from '../../src/jobs/lay-materials.ts';
import type { Lay } from '../../src/lay/lay.ts';
import type { RunContent } from '../../src/run/run-file.ts';
import { readJob } from '../../src/run/job.ts';
import { lay } from '../../src/web/tasks/lay.ts';
import { workshopIn } from '../../src/web/workshop/workshop.ts';
import { verifyLay } from '../lay/verify.ts';
import { openWorkshop, runFile, wren } from '../support/wren.ts';

/** The run with its loop carpet on two rolls, for which one order lies on each. */
const onTwoRolls = ((): Record<string, string> => {
  const sheet = parse(String(wren[runFile])) as RunContent;
  const loop = { ...[sheet.rolls['loop'] ?? {}].flat()[0] };
  const rolls = [
    { ...loop, name: 'first', length: 40_000 },
    { ...loop, name: 'second', length: 41_000 },
  ];
  return { ...wren, [runFile]: stringify({ ...sheet, rolls: { ...sheet.rolls, loop: rolls } }) };
})();

/** A clock that goes on by one millisecond whenever it is looked at. Gives the time, ms. */
function clockByLooks(): () => number {
  let now = 0;
  vi.spyOn(Date, 'now').mockImplementation(() => ++now);
  return () => now;
}

afterEach(() => {
  vi.restoreAllMocks();
});

async function inShop<T>(files: typeof wren, work: (root: string) => Promise<T>): Promise<T> {
  const { root, close } = openWorkshop(files);
  try {
    return await work(root);
  } finally {
    close();
  }
}

describe.each([
  ['one roll of each', wren],
  ['two rolls of the carpet', onTwoRolls],
])('a run with %s, searched for by the clock', (_, files) => {
  const seconds = 1.5;

  it('has lays of everything first, then ends in time, whatever cloths it has', async () => {
    await inShop(files, async (root) => {
      const job = readJob(join(root, runFile), join(root, 'shared'));
      expect(job.cloths.length).toBeGreaterThan(2);
      const told = new Set<string>();
      let toldFirst: readonly string[] = [];
      const options: LayOptions = {
        limit: { seconds },
        threads: 1,
        progress: (name) => told.add(name),
        before: async () => {
          if (toldFirst.length === 0) toldFirst = [...told];
        },
      };
      const time = clockByLooks();
      const lays: Lay[] = await layMaterials(job, options);
      // The clock is looked at after every move, so it cannot run far past the end.
      expect(time()).toBeGreaterThan(1000 * seconds);
      expect(time()).toBeLessThan(1000 * seconds + 300);
      // Of each cloth a lay was told before the first was searched for, by its own name or by those of its rolls.
      const clothsTold = job.cloths.filter(({ material: { name } }) =>
        toldFirst.some((one) => one === name || one.startsWith(`${name}-`)),
      );
      expect(clothsTold).toHaveLength(job.cloths.length);
      const laid = lays.flatMap(({ placements }) => placements);
      expect(laid).toHaveLength(job.parts.length);
      for (const one of lays) {
        const own = new Set(one.placements.map(({ label }) => label));
        const on = job.parts.filter(({ label }) => own.has(label));
        expect(verifyLay(one, on)).toEqual([]);
      }
    });
  });

  it('ends in time on the page, too', async () => {
    await inShop(files, async (root) => {
      const time = clockByLooks();
      const asked = Date.now();
      const { lays, findings } = await lay(
        { shop: workshopIn(root), run: 'wren-week', asked, seconds },
        { progress: () => {}, signal: new AbortController().signal },
      );
      expect(findings).toEqual([]);
      expect(lays.length).toBeGreaterThan(2);
      expect(time()).toBeGreaterThan(1000 * seconds);
      expect(time()).toBeLessThan(1000 * seconds + 300);
    });
  });
});
