import { rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { wholeMm } from '../../../src/base/wording.ts';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { cut } from '../../../src/jobs/cut.ts';
import { restOfRoll } from '../../../src/jobs/rests.ts';
import { recut } from '../../../src/jobs/recut.ts';
import { paperHtml } from '../../../src/papers/documents/document-html.ts';
import { costSheet } from '../../../src/papers/sheets/cost-sheet.ts';
import { runSheet } from '../../../src/papers/sheets/sheet.ts';
import { readRunRecord } from '../../../src/program/record/record.ts';
import type { LayRecord, RunRecord } from '../../../src/program/record/run-record.ts';
import { readStock } from '../../../src/run/run-file.ts';
import type { Rest } from '../../../src/web/api/files.ts';
import { standing } from '../../../src/web/tasks/standing.ts';
import { rememberRest, rememberRoll } from '../../../src/web/workshop/stock-file.ts';
import { workshopIn } from '../../../src/web/workshop/workshop.ts';
import { elementsIn, readMarkup, textOf } from '../../papers/markup.ts';
import { madeRun } from '../../support/made-run.ts';
import { openWorkshop, replaced, runFile, wren } from '../../support/wren.ts';

// Cloth is taken from a roll once: what run and recuts take, and what is left, is never more than the roll.

const { root, close } = openWorkshop(replaced(wren, runFile, 'loop: {', 'loop: { name: L7,'));
const shop = workshopIn(root);
const stock = join(shop.shared, 'rolls.yaml');
const whole = 9000;

beforeAll(async () => {
  const out = join(shop.out, 'week');
  await cut({ runFile: join(root, runFile), sharedFolder: shop.shared, out, force: false });
});

beforeEach(() => {
  for (const name of ['one', 'two', 'three']) {
    rmSync(join(shop.out, name), { recursive: true, force: true });
  }
  rmSync(stock, { force: true });
});

afterAll(close);

async function recutAs(name: string, from = 'week', remnant?: string): Promise<string[]> {
  const { findings } = await recut({
    folder: join(shop.out, from),
    labels: ['mat-left.1.A1'],
    out: join(shop.out, name),
    force: true,
    stock,
    search: { seed: 1, limit: { rounds: 1 } },
    ...(remnant === undefined ? {} : { remnant: { name: remnant, file: stock } }),
  });
  return findings.map(({ rule }) => rule);
}

function layOf(name: string): LayRecord {
  const { lays }: RunRecord = readRunRecord(join(shop.out, name, 'run.json'));
  return lays.find(({ material }) => material === 'loop')!;
}

function restOf(run: string): Rest {
  return standing({ shop, run }).rests.find(({ material }) => material === 'loop')!;
}

const kept = (): number => [readStock(stock).rolls['loop']!].flat()[0]!.length!;
const keep = (length: number): void =>
  rememberRoll(shop, 'loop', { name: 'L7', length, dyeLot: '7', defects: [], pins: [], laid: [] });

describe('what a run and its recuts leave of a roll', () => {
  it('is what neither has taken, whichever is asked, and each recut lies behind those before it', async () => {
    const taken = layOf('week').length;
    expect(restOf('week').roll.length).toBe(Math.floor(whole - taken));
    await recutAs('one');
    expect(layOf('one').rollLength).toBe(Math.floor(whole - taken));
    await recutAs('two');
    expect(layOf('two').rollLength).toBe(Math.floor(whole - taken - layOf('one').length));
    await recutAs('three', 'one');
    const all = [taken, ...['one', 'two', 'three'].map((name) => layOf(name).length)];
    const left = whole - all.reduce((sum, length) => sum + length, 0);
    for (const run of ['week', 'one', 'two', 'three']) {
      const { length } = restOf(run).roll;
      expect([run, length! <= left, length! > left - 5]).toEqual([run, true, true]);
    }
  });

  it('comes back where a recut is thrown away, and stays where it is made anew', async () => {
    await recutAs('one');
    await recutAs('two');
    const before = restOf('week').roll.length;
    await recutAs('two');
    expect(restOf('week').roll.length).toBe(before);
    rmSync(join(shop.out, 'two'), { recursive: true });
    expect(restOf('week').roll.length).toBeGreaterThan(before!);
  });

  it('is no more for a remnant that is the very roll', async () => {
    keep(whole);
    expect(await recutAs('one', 'week', 'L7')).toEqual(['rest-kept']);
    expect(layOf('one').rollLength).toBe(Math.floor(whole - layOf('week').length));
    // Measured anew, there is less than there should be: that counts.
    keep(2000);
    await recutAs('two', 'week', 'L7');
    expect(layOf('two').rollLength).toBe(2000);
    expect(restOf('week').roll.length).toBe(Math.floor(2000 - layOf('two').length));
  });
});

describe('what is left of a roll and remembered', () => {
  it('is written once, and less what a recut takes afterwards', async () => {
    const first = restOf('week').roll.length!;
    expect(rememberRest(shop, restOf('week'))).toBe(
      `L7 is kept in shared/rolls.yaml with ${wholeMm(first)}.`,
    );
    expect(rememberRest(shop, restOf('week'))).toBe(`L7 is kept with ${wholeMm(first)} already.`);
    expect(kept()).toBe(first);
    expect(await recutAs('one')).toEqual(['rest-kept']);
    const second = restOf('one').roll.length!;
    expect(second).toBe(Math.floor(first - layOf('one').length));
    for (const run of ['one', 'week']) {
      keep(first);
      expect(rememberRest(shop, restOf(run))).toContain(`instead of ${wholeMm(first)}`);
      expect(kept()).toBe(second);
    }
  });

  it('takes the place of the whole roll as it was loaded', () => {
    keep(whole);
    rememberRest(shop, restOf('week'));
    expect(kept()).toBe(restOf('week').roll.length);
  });

  it('is refused where something else was cut from the roll since, and so is a recut', async () => {
    const less = restOf('week').roll.length! - 700;
    keep(less);
    expect(() => rememberRest(shop, restOf('week'))).toThrow('it was cut from since');
    expect(kept()).toBe(less);
    await expect(recutAs('one')).rejects.toThrow('something else was cut from it since');
  });
});

describe('what is left of a roll is one figure', () => {
  const project = resolve(import.meta.dirname, '../../..');

  it.each([
    ['of the Wren', root, runFile],
    ['of the demo run', project, 'patterns/fenlark-week.yaml'],
  ])('on run sheet and cost sheet, in the record and among the rolls: %s', async (_, at, file) => {
    const request = { runFile: join(at, file), sharedFolder: join(at, 'shared') };
    const { facts, files } = await madeRun({ ...request, limit: { rounds: 1 } }, 'week');
    const record: RunRecord = JSON.parse(files.get('run.json')!);
    const rests = record.lays.map(restOfRoll);
    const known = rests.filter((rest) => rest !== null && rest.length !== Infinity);
    expect(known).toHaveLength(1);
    // From a tape, by hand: the roll less its lay, whole mm.
    const lay = record.lays.find(({ rollLength }) => rollLength !== null)!;
    const left = Math.floor(lay.rollLength! - lay.length);
    expect(known[0]!.length).toBe(left);
    const words = `${left} mm`;
    const sheet = paperHtml(runSheet(facts));
    const square = ', behind a square cut';
    expect(sheet).toContain(`>${words}${square}<`);
    expect(sheet.split(square)).toHaveLength(2);
    const costs = rowsOf(paperHtml(costSheet(facts)));
    expect(costs.filter((row) => row.includes(words)).length).toBeGreaterThan(0);
    expect(costs.filter((row) => row[2] === words)).toHaveLength(1);
  });

  function rowsOf(html: string): string[][] {
    const page = readMarkup(html.replace(/<style>.*?<\/style>/s, ''));
    return elementsIn(page)
      .filter(({ name }) => name === 'tr')
      .map((row) =>
        elementsIn(row)
          .filter(({ name }) => name === 'td' || name === 'th')
          .map(textOf),
      );
  }
});
