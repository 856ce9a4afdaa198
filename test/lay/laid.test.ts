import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { cut } from '../../src/jobs/cut.ts';
import type { Job } from '../../src/run/job.ts';
import { readJob } from '../../src/run/job.ts';
import type { Lay } from '../../src/lay/lay.ts';
import type { LayOptions } from '../../src/jobs/lay-materials.ts';
import { layMaterials } from '../../src/jobs/lay-materials.ts';
import type { Pin, RunContent } from '../../src/run/run-file.ts';
import { openWorkshop, runFile, wren } from '../support/wren.ts';

// What a search has laid is kept in the run file: the parts lie so again, and are not searched for.

let shop: ReturnType<typeof openWorkshop>;
/** Where a short search has the parts. */
let known: readonly Lay[];

beforeAll(async () => {
  shop = openWorkshop(wren);
  known = await layMaterials(job(), { limit: { rounds: 2 }, threads: 1 });
});

afterAll(() => shop.close());

function job(): Job {
  return readJob(join(shop.root, runFile), join(shop.root, 'shared'));
}

function pinsOf({ placements }: Lay): Pin[] {
  return placements.map(({ label, x, y, rotation }) => ({ part: label, at: [x, y], rotation }));
}

/** Writes the run file with these parts laid, by material; `more` says what else is different. */
function keep(laid: Readonly<Record<string, readonly Pin[]>>, more: object = {}): void {
  const sheet = parse(String(wren[runFile])) as RunContent;
  const rolls = Object.fromEntries(
    Object.entries(laid).map(([material, pins]) => [
      material,
      { ...sheet.rolls[material], laid: pins },
    ]),
  );
  writeFileSync(
    join(shop.root, runFile),
    stringify({ ...sheet, ...more, rolls: { ...sheet.rolls, ...rolls } }),
  );
}

function allLaid(): Record<string, Pin[]> {
  return Object.fromEntries(known.map((lay) => [lay.material, pinsOf(lay)]));
}

function placesOf(lays: readonly Lay[]) {
  return lays.map(({ material, placements, length }) => ({ material, placements, length }));
}

/** An effort that no machine comes to the end of. */
const endless = 1e9;

describe('a run whose parts are all laid', () => {
  it('lies as it says, with no search, whatever effort and seed say', async () => {
    keep(allLaid(), { effort: endless, seed: 77 });
    const options: LayOptions[] = [{}, { seed: 5 }, { limit: { rounds: endless } }];
    for (const one of options) {
      const began = performance.now();
      expect(placesOf(await layMaterials(job(), one))).toEqual(placesOf(known));
      // An endless search would be ended by the test's own limit alone; a short one shows here.
      expect(performance.now() - began).toBeLessThan(5000);
    }
  });

  it('says what was not searched for to whoever asks for a search, and to nobody else', async () => {
    const notesOf = async (parent: string, asked: Partial<Parameters<typeof cut>[0]>) => {
      const out = join(shop.root, parent, 'wren-week');
      const request = {
        runFile: join(shop.root, runFile),
        sharedFolder: join(shop.root, 'shared'),
      };
      const { findings } = await cut({ ...request, out, force: false, ...asked });
      return findings.flatMap(({ rule, message }) => (rule === 'laid-as-it-was' ? message : []));
    };
    keep(allLaid());
    const laid = known.reduce((sum, { placements }) => sum + placements.length, 0);
    const note = `${laid} parts lie as the run file has them laid: they were not searched for.`;
    expect(await notesOf('asked', { limit: { rounds: 1 } })).toEqual([note]);
    expect(await notesOf('silent', {})).toEqual([]);
    const [first] = pinsOf(known[0]!);
    keep({ [known[0]!.material]: [first!] });
    expect(await notesOf('single', { limit: { rounds: 1 } })).toEqual([
      '1 part lies as the run file has it laid: it was not searched for.',
    ]);
  });

  it('is cut byte for byte the same twice', async () => {
    keep(allLaid(), { effort: endless });
    const folders = ['first', 'again'].map((parent) => join(shop.root, parent, 'wren-week'));
    for (const out of folders) {
      await cut({
        runFile: join(shop.root, runFile),
        sharedFolder: join(shop.root, 'shared'),
        out,
        force: false,
      });
    }
    const [first, again] = folders.map((folder) =>
      readdirSync(folder)
        .sort()
        .map((name) => [name, readFileSync(join(folder, name), 'base64')]),
    );
    expect(first!.length).toBeGreaterThan(10);
    expect(again).toEqual(first);
    const record = JSON.parse(readFileSync(join(folders[0]!, 'run.json'), 'utf8'));
    const placed = record.lays.flatMap((lay: Lay) => lay.placements);
    expect(placed).toEqual(known.flatMap(({ placements }) => placements));
  });
});

describe('a run with some parts laid', () => {
  it('leaves these where they are and lays the others round them', async () => {
    const loop = pinsOf(known.find(({ material }) => material === 'loop')!);
    keep({ loop: loop.slice(0, 4) });
    const lays = await layMaterials(job(), { limit: { rounds: 1 }, threads: 1 });
    const { placements } = lays.find(({ material }) => material === 'loop')!;
    expect(placements).toHaveLength(loop.length);
    for (const pin of loop.slice(0, 4)) {
      const { x, y, rotation } = placements.find(({ label }) => label === pin.part)!;
      expect({ part: pin.part, at: [x, y], rotation }).toEqual(pin);
    }
  });
});

describe('a search that goes on from there', () => {
  it('never gets longer, and in two thousand rounds shorter', async () => {
    keep(allLaid());
    const sum = (lays: readonly Lay[]): number =>
      lays.reduce((total, { length }) => total + length, 0);
    for (const rounds of [0, 1, 2000]) {
      const lays = await layMaterials(job(), { goOn: true, limit: { rounds }, threads: 1 });
      expect(lays.map(({ material }) => material)).toEqual(known.map(({ material }) => material));
      for (const [i, { length }] of lays.entries()) {
        expect(length).toBeLessThanOrEqual(known[i]!.length + 1e-6);
      }
      if (rounds === 2000) expect(sum(lays)).toBeLessThan(sum(known) - 1);
    }
  });

  it('searches: parts spread over the roll come together', async () => {
    const spread = allLaid();
    // The last part along the roll lies 1000 mm farther on than it must.
    const last = spread['loop']!.reduce((one, other) => (other.at[0] > one.at[0] ? other : one));
    last.at[0] += 1000;
    keep(spread);
    const options: LayOptions = { limit: { rounds: 60 }, threads: 1 };
    const lengthOf = async (goOn: boolean): Promise<number> => {
      const lays = await layMaterials(job(), { ...options, goOn });
      return lays.find(({ material }) => material === 'loop')!.length;
    };
    const stayed = await lengthOf(false);
    expect(await lengthOf(true)).toBeLessThan(stayed - 300);
  });

  it('leaves what is pinned', async () => {
    const { loop, ...others } = allLaid();
    const [pinned] = loop!;
    keep(others, {});
    const sheet = parse(readFileSync(join(shop.root, runFile), 'utf8')) as RunContent;
    const roll = { ...[sheet.rolls['loop']!].flat()[0]!, pins: [pinned], laid: loop!.slice(1) };
    const rolls = { ...sheet.rolls, loop: roll };
    writeFileSync(join(shop.root, runFile), stringify({ ...sheet, rolls }));
    const lays = await layMaterials(job(), { goOn: true, limit: { rounds: 10 }, threads: 1 });
    const placements = lays.flatMap((lay) => lay.placements);
    const { x, y } = placements.find(({ label }) => label === pinned!.part)!;
    expect([x, y]).toEqual(pinned!.at);
  });
});

describe('what no longer fits is refused in words', () => {
  it('a label that no order has', async () => {
    const laid = allLaid();
    keep({ ...laid, loop: [...laid['loop']!, { part: 'hood.1.A1', at: [100, 100], rotation: 0 }] });
    await expect(layMaterials(job(), {})).rejects.toThrow(
      /hood\.1\.A1.*no part of that label is cut from this material/,
    );
  });

  it('parts that overlap', async () => {
    const laid = allLaid();
    const [one, other] = laid['loop']!;
    other!.at = [one!.at[0], one!.at[1]];
    other!.rotation = one!.rotation;
    keep(laid);
    await expect(layMaterials(job(), {})).rejects.toThrow(/overlap by [\d.]+ mm2/);
    await expect(layMaterials(job(), { goOn: true })).rejects.toThrow(/overlap by [\d.]+ mm2/);
  });

  it('parts on a roll whose start is not usable as far as it was', async () => {
    keep(allLaid());
    const file = join(shop.root, runFile);
    const sheet = parse(readFileSync(file, 'utf8')) as RunContent;
    const roll = { ...[sheet.rolls['loop']!].flat()[0]!, startMargin: 100 };
    writeFileSync(file, stringify({ ...sheet, rolls: { ...sheet.rolls, loop: roll } }));
    await expect(layMaterials(job(), {})).rejects.toThrow(/into the margin at the start/);
  });
});
