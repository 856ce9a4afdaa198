import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { cut } from '../../src/jobs/cut.ts';
import { recut } from '../../src/jobs/recut.ts';
import type { PartRecord, RunRecord } from '../../src/program/record/run-record.ts';
import { readJob } from '../../src/run/job.ts';
import { mixedRun } from '../support/mixed.ts';
import type { Files } from '../support/wren.ts';
import { inFolder, runFile, wren } from '../support/wren.ts';

/** One of each kind: two colours of one material, another material, and a part of a set. */
const orders = {
  A: '{ order: A, set: wren, hand: RHD, quantity: 2, carpet: { colour: sand }, pad: { colour: black } }',
  B: '{ order: B, set: wren, hand: LHD, carpet: { colour: claret }, pad: { colour: grey } }',
  C: '{ order: C, set: wren, hand: RHD, carpet: { material: plush, colour: claret }, pad: { colour: black }, heelPads: both }',
  D: '{ order: D, set: wren, hand: RHD, carpet: { colour: sand }, pad: { colour: black }, alone: [mat-left, rest] }',
};

/** What each order is of, as the lines above say it. */
const wanted = {
  A: { piece: 'loop sand', pad: 'rubber black', board: 'board' },
  B: { piece: 'loop claret', pad: 'rubber grey', board: 'board' },
  C: { piece: 'plush claret', pad: 'rubber black', board: 'board' },
  D: { piece: 'loop sand', pad: 'rubber black', board: 'board' },
} as const;

const rolls =
  '{ loop: [{ colour: sand, dyeLot: S1, length: 9000 }, { colour: claret, name: end }] }';

async function written(files: Files): Promise<ReadonlyMap<string, string>> {
  return inFolder(files, async (root) => {
    const out = join(root, 'out/mixed');
    await cut({
      runFile: join(root, runFile),
      sharedFolder: join(root, 'shared'),
      out,
      force: false,
    });
    return new Map(readdirSync(out).map((name) => [name, readFileSync(join(out, name), 'utf8')]));
  });
}

function clothOf({ material, colour }: { material: string; colour?: string }): string {
  return colour === undefined ? material : `${material} ${colour}`;
}

describe('a run of orders in several materials and colours', () => {
  let files: ReadonlyMap<string, string>;
  let record: RunRecord;
  beforeAll(async () => {
    files = await written(mixedRun(Object.values(orders), rolls));
    record = JSON.parse(files.get('run.json')!) as RunRecord;
  });

  it('has one lay for each roll that is loaded', () => {
    const lays = [
      'loop-sand',
      'loop-claret-end',
      'plush-claret',
      'board',
      'rubber-black',
      'rubber-grey',
    ];
    const drawn = [...files.keys()].filter((name) => name.endsWith('.dxf'));
    expect(drawn.toSorted()).toEqual(lays.map((lay) => `${lay}.dxf`).toSorted());
  });

  it('cuts every part from what its order says, and from nothing else', () => {
    const places = new Map(
      record.lays.flatMap((lay) =>
        lay.placements.map(({ label }) => [label, clothOf(lay)] as const),
      ),
    );
    expect(places.size).toBe(record.parts.length);
    for (const part of record.parts) {
      const own = wanted[part.order as keyof typeof wanted][part.kind as 'piece' | 'pad' | 'board'];
      expect([part.label, clothOf(part), places.get(part.label)]).toEqual([part.label, own, own]);
    }
  });

  it('says in each program of which cloth it is', () => {
    for (const [name, text] of files) {
      if (!name.endsWith('.nc')) continue;
      const [cloth] = name.split('.');
      expect([name, text.slice(0, 400)]).toEqual([name, expect.stringContaining(cloth!)]);
    }
  });

  it('adds to edges what the material that is chosen says', () => {
    // The floor ends at y = 900 and is sewn there: 10 mm more of loop, 14 of plush (see the materials).
    const reach = (order: string): number => {
      const floor = record.parts.find((part) => part.order === order && part.name === 'floor')!;
      return Math.max(...floor.cutContour.map(([, y]) => y));
    };
    expect(reach('A')).toBeCloseTo(910, 6);
    expect(reach('C')).toBeCloseTo(914, 6);
  });

  it('cuts of a part of a set what the whole set has, to the last byte', () => {
    const own = record.parts.filter(({ order }) => order === 'D');
    expect(own.map(({ name }) => name)).toEqual(['mat-left', 'rest-right', 'rest-board-right']);
    for (const part of own) {
      const whole = record.parts.find(({ label }) => label === `${part.name}.1.A`)!;
      const renamed: PartRecord = { ...whole, label: part.label, order: 'D' };
      expect(JSON.stringify(part)).toBe(JSON.stringify(renamed));
    }
  });

  it('cuts a lost part again from a remnant of its colour, and from no other', async () => {
    await inFolder(mixedRun(Object.values(orders), rolls), async (root) => {
      const folder = join(root, 'out/mixed');
      const shared = join(root, 'shared');
      await cut({ runFile: join(root, runFile), sharedFolder: shared, out: folder, force: false });
      const file = join(shared, 'rolls.yaml');
      writeFileSync(
        file,
        'rolls: { loop: [{ name: s, colour: sand, length: 1500 }, { name: c, colour: claret, length: 1500 }, { name: n, length: 1500 }] }\n',
      );
      const again = (name: string) =>
        recut({
          folder,
          labels: ['mat-left.1.A'],
          remnant: { name, file },
          out: join(root, `out/again-${name}`),
          force: false,
          search: { seed: 1, limit: { rounds: 2 } },
        });
      const { materials } = await again('s');
      expect(materials.map(({ lay }) => [lay.roll.name, lay.roll.colour])).toEqual([['s', 'sand']]);
      await expect(again('c')).rejects.toThrow(/is of loop-claret, and none of these parts is/);
      await expect(again('n')).rejects.toThrow(/the colour of the remnant "n" of loop is not said/);
    });
  });
});

describe('the order in which orders stand', () => {
  it('changes no part', async () => {
    const partsOf = (list: readonly string[]) =>
      inFolder(mixedRun(list), (root) => {
        const { parts } = readJob(join(root, runFile), join(root, 'shared'));
        return parts.map((part) => JSON.stringify(part)).toSorted();
      });
    const list = Object.values(orders);
    const known = await partsOf(list);
    for (const turned of [list.toReversed(), [...list.slice(2), ...list.slice(0, 2)]]) {
      expect(await partsOf(turned)).toEqual(known);
    }
  });
});

describe('a run that says nothing of all this', () => {
  it('is recorded as it always was', async () => {
    const record = JSON.parse((await written(wren)).get('run.json')!) as RunRecord;
    // The keys that run.json had before there were colours.
    expect(Object.keys(record.orders[0]!)).toEqual([
      'order',
      'set',
      'hand',
      'quantity',
      'heelPads',
      'boards',
      'underlay',
      'binding',
      'title',
    ]);
    const others = [...record.parts, ...record.lays, ...record.materials];
    expect(others.flatMap((one) => Object.keys(one)).filter((key) => /colour/.test(key))).toEqual(
      [],
    );
  });
});
