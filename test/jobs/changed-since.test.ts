import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { firstAndMore } from '../../src/base/wording.ts';
import { changedSince } from '../../src/jobs/changed-since.ts';
import { cut } from '../../src/jobs/cut.ts';
import { readRunRecord } from '../../src/program/record/record.ts';
import type { RunRecord } from '../../src/program/record/run-record.ts';
import type { RunContent } from '../../src/run/run-file.ts';
import { inputIn, workshopIn } from '../../src/web/workshop/workshop.ts';
import {
  colouredWren,
  drawingFile,
  openWorkshop,
  replaced,
  runFile,
  setFile,
  wren,
} from '../support/wren.ts';

// What changes a run is said by the README of run files: the keys of an order, of a roll, of the run.

const defects = 'defects: [[[8000, 100], [8100, 100], [8100, 200]]]';
const { root, close } = openWorkshop(
  replaced(wren, runFile, 'loop: {', `loop: { name: L7, ${defects}, `),
);
const shop = workshopIn(root);
const file = join(root, runFile);
const before = readFileSync(file, 'utf8');
let record: RunRecord;

beforeAll(async () => {
  record = await cutAs('week');
});

beforeEach(() => writeFileSync(file, before));

afterAll(close);

async function cutAs(name: string): Promise<RunRecord> {
  const out = join(root, 'out', name);
  await cut({ runFile: file, sharedFolder: shop.shared, out, force: false });
  return readRunRecord(join(out, 'run.json'));
}

const changes = (of = record): readonly string[] =>
  changedSince(of, (input) => inputIn(shop, input));

/** The run file with something in it changed. */
function rewrite(change: (content: RunContent) => void): void {
  const content = parse(before) as RunContent;
  change(content);
  writeFileSync(file, stringify(content));
}

/** What the page writes once parts are laid: the places of the record, or some of them moved. */
function laidAs(of: RunRecord, moved = 0): (content: RunContent) => void {
  return (content) => {
    for (const { material, placements } of of.lays) {
      const laid = placements.map(({ label, x, y, rotation }, i) => ({
        part: label,
        at: [x + (i === 0 ? moved : 0), y] as [number, number],
        rotation,
      }));
      const roll = content.rolls[material] ?? {};
      content.rolls[material] = { ...(roll as object), laid } as never;
    }
  };
}

const loop = (content: RunContent): Record<string, unknown> => content.rolls['loop'] as never;

describe('files are of the run as it stands', () => {
  it.each<[string, () => void]>([
    ['nothing was touched', () => {}],
    ['a comment was written', () => writeFileSync(file, `# the week\n${before}`)],
    ['it is set out anew', () => rewrite(() => {})],
    [
      'keys stand in another order',
      () => writeFileSync(file, stringify(Object.fromEntries(entriesBack(parse(before))))),
    ],
    ['orders stand in another order', () => rewrite(({ orders }) => void orders.reverse())],
    ['the lay that was cut was written into it', () => rewrite(laidAs(record))],
    [
      'a part was pinned where it was cut',
      () =>
        rewrite((content) => {
          const { label, x, y, rotation } = record.lays[0]!.placements[3]!;
          loop(content)['pins'] = [{ part: label, at: [x, y], rotation }];
        }),
    ],
    ['what is usual was written out', () => rewrite(({ orders }) => (orders[0]!.boards = true))],
    ['a longer search is asked for', () => rewrite((content) => (content.effort = 900))],
  ])('where %s', (_, change) => {
    change();
    expect(changes()).toEqual([]);
  });

  it('where they were cut as they were laid, and only a comment was added', async () => {
    rewrite(laidAs(record));
    const again = await cutAs('laid');
    writeFileSync(file, `${readFileSync(file, 'utf8')}# cut on Monday\n`);
    expect(changes(again)).toEqual([]);
  });
});

function entriesBack(value: object): [string, unknown][] {
  return Object.entries(value).toReversed();
}

describe('files are older than the run', () => {
  it.each<[string, (content: RunContent) => void, string]>([
    ['a hand', ({ orders }) => (orders[0]!.hand = 'LHD'), 'order A1 was changed to LHD'],
    ['a quantity', ({ orders }) => (orders[0]!.quantity = 3), 'order A1 was changed'],
    ['an option', ({ orders }) => (orders[1]!.options = { lock: true }), 'order A2 was changed'],
    ['heel pads', ({ orders }) => (orders[1]!.heelPads = 'none'), 'order A2 was changed'],
    ['a binding', ({ orders }) => (orders[0]!.binding = 'sand'), 'order A1 was changed'],
    ['no binding', ({ orders }) => delete orders[0]!.binding, 'order A1 was changed'],
    ['a customer', ({ orders }) => (orders[0]!.customer = 'Hill'), 'order A1 was changed'],
    [
      'a new order',
      ({ orders }) => orders.push({ ...orders[0]!, order: 'A3' }),
      'order A3 was added',
    ],
    ['an order less', ({ orders }) => void orders.splice(0, 1), 'order A1 was taken out'],
    ['a roll length', (c) => (loop(c)['length'] = 8999), 'the roll loop L7 was changed'],
    ['no roll length', (c) => delete loop(c)['length'], 'the roll loop L7 was changed'],
    ['a roll width', (c) => (loop(c)['width'] = 1490), 'the roll loop L7 was changed'],
    ['a selvedge', (c) => (loop(c)['selvedge'] = 21), 'the roll loop L7 was changed'],
    ['a start margin', (c) => (loop(c)['startMargin'] = 16), 'the roll loop L7 was changed'],
    ['a dye lot', (c) => (loop(c)['dyeLot'] = '8'), 'the roll loop L7 was changed'],
    ['a name of a roll', (c) => (loop(c)['name'] = 'L8'), 'the roll loop L7 was changed'],
    ['a defect less', (c) => delete loop(c)['defects'], 'the roll loop L7 was changed'],
    [
      'a remnant',
      (c) =>
        (loop(c)['outline'] = [
          [0, 0],
          [9000, 0],
          [9000, 1500],
          [0, 1500],
        ]),
      'the roll loop L7 was changed',
    ],
    [
      'a pin',
      (c) => (loop(c)['pins'] = [{ part: 'floor.1.A1', at: [1, 2] }]),
      'the lay of loop was changed',
    ],
    ['the cutter', (content) => (content.cutter = 'conveyor-bed'), 'the cutter was changed'],
    ['the title', (content) => (content.title = 'Wren'), 'the title was changed'],
    ['the labels', (content) => (content.labels = 'a4-21'), 'the sheet of labels was changed'],
    ['inches', (content) => (content.inches = true), 'the units on papers were changed'],
  ])('%s', (_, change, words) => {
    rewrite(change);
    expect(changes()[0]).toBe(words);
  });

  it('where a part was moved after it was cut, by as little as a thousandth', () => {
    rewrite(laidAs(record, 0.001));
    expect(changes()).toEqual(
      record.lays.map(({ material }) => `the lay of ${material} was changed`),
    );
  });

  it('where a part was taken off the roll', () => {
    rewrite((content) => {
      laidAs(record)(content);
      (loop(content)['laid'] as unknown[]).pop();
    });
    expect(changes()).toEqual(['the lay of loop was changed']);
  });

  it.each([
    [drawingFile, 'the drawing of the set wren was changed'],
    [setFile, 'the set wren was changed'],
    ['shared/materials/loop.yaml', 'the material loop was changed'],
    ['shared/bindings/tape.yaml', 'the tape tape was changed'],
    ['shared/cutters/long-bay.yaml', 'the cutter long-bay was changed'],
  ])('where %s was changed or is gone', (name, words) => {
    const text = readFileSync(join(root, name));
    try {
      writeFileSync(join(root, name), Buffer.concat([text, Buffer.from('\n')]));
      expect(changes()).toEqual([words]);
      rmSync(join(root, name));
      expect(changes()).toEqual([words]);
    } finally {
      writeFileSync(join(root, name), text);
    }
    expect(changes()).toEqual([]);
  });

  it('where the run file is gone or can no longer be read', () => {
    writeFileSync(file, 'title: [');
    expect(changes()).toEqual(['its run file was changed, and cannot be read']);
    rmSync(file);
    expect(changes()).toEqual(['its run file was taken away']);
  });

  it('is told by the first change, and how many more there are', () => {
    rewrite((content) => {
      content.orders[0]!.quantity = 1;
      content.orders[1]!.hand = 'RHD';
      content.cutter = 'conveyor-bed';
    });
    expect(firstAndMore(changes())).toBe('order A1 was changed, and 2 more');
    expect(firstAndMore(['order A1 was changed'])).toBe('order A1 was changed');
  });

  it('reads nothing that lies outside the shop', () => {
    const inputs = [...record.inputs, { file: '../../etc/passwd', sha256: '0'.repeat(64) }];
    expect(changes({ ...record, inputs })).toEqual(['passwd was changed']);
  });
});

describe('orders that are kept in a CSV', () => {
  const csv = 'order,set,hand,quantity,binding\nA1,wren,RHD,2,black\nA2,wren,LHD,1,\n';

  it('make files older where the table says something else, not where it is written otherwise', async () => {
    rewrite((content) => (content.orders = 'orders.csv' as never));
    const table = join(root, 'patterns/orders.csv');
    writeFileSync(table, csv);
    const of = await cutAs('table');
    writeFileSync(table, csv.replaceAll('\n', '\r\n'));
    expect(changes(of)).toEqual([]);
    writeFileSync(table, csv.replace('RHD,2', 'RHD,1'));
    expect(changes(of)).toEqual(['order A1 was changed']);
    rmSync(table);
    expect(changes(of)).toHaveLength(1);
  });
});

describe('a run on rolls of several colours', () => {
  const spare = '    - { colour: claret, name: spare, length: 20000 }\n';
  const coloured = openWorkshop(
    replaced(
      replaced(colouredWren, runFile, 'dyeLot: "7" }', 'dyeLot: "7", name: first }'),
      runFile,
      '    - { colour: navy',
      `${spare}    - { colour: navy`,
    ),
  );
  afterAll(coloured.close);
  const own = workshopIn(coloured.root);
  const path = join(coloured.root, runFile);

  it('names the cloth, and a roll that nothing was cut from counts for nothing', async () => {
    const out = join(coloured.root, 'out/week');
    await cut({ runFile: path, sharedFolder: own.shared, out, force: false });
    const of = readRunRecord(join(out, 'run.json'));
    const now = (): readonly string[] => changedSince(of, (input) => inputIn(own, input));
    const text = readFileSync(path, 'utf8');
    writeFileSync(path, text.replace('length: 4000', 'length: 4100'));
    expect(now()).toEqual(['the roll loop navy was changed']);
    writeFileSync(path, text.replace('length: 20000', 'length: 21000'));
    expect(now()).toEqual([]);
    // A whole folder that is moved elsewhere is told of as gone.
    mkdirSync(join(coloured.root, 'away'));
    renameSync(join(own.shared, 'materials'), join(coloured.root, 'away/materials'));
    expect(now()[0]).toBe('the material board was changed');
  });
});
