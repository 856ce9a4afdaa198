import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { circle } from '../../../src/geometry/paths/path.ts';
import type { RunRecord } from '../../../src/program/record/run-record.ts';
import { paperHtml } from '../../../src/papers/documents/document-html.ts';
import { runSheet } from '../../../src/papers/sheets/sheet.ts';
import { madeRun } from '../../support/made-run.ts';
import type { Files } from '../../support/wren.ts';
import { drawingFile, inFolder, redrawn, replaced, runFile, wren } from '../../support/wren.ts';
import type { Element } from '../markup.ts';
import { childrenNamed, elementsIn, readMarkup, textOf } from '../markup.ts';

interface Written {
  readonly text: string;
  readonly sheet: Element;
  readonly record: RunRecord;
  /** Of each lay, by the stops in its program. */
  readonly bites: readonly number[];
}

async function sheetOf(files: Files): Promise<Written> {
  return inFolder(files, async (root) => {
    const request = { runFile: join(root, runFile), sharedFolder: join(root, 'shared') };
    const made = await madeRun(request, 'wren-week');
    const text = paperHtml(runSheet(made.facts));
    expect(text).not.toContain(root);
    const record = JSON.parse(made.files.get('run.json')!) as RunRecord;
    const bites = record.lays.map(({ material, roll }) => {
      const name = roll === null ? material : `${material}-${roll}`;
      const program = made.files.get(`${name}.nc`)!;
      return 1 + program.split('\n').filter((line) => line.startsWith('(MSG, FEED')).length;
    });
    return { text, sheet: readMarkup(text), record, bites };
  });
}

function named(sheet: Element, name: string): Element[] {
  return elementsIn(sheet).filter((element) => element.name === name);
}

/** The rows of the nth table, cell by cell. */
function rowsOf(sheet: Element, table: number): string[][] {
  const body = named(sheet, 'tbody')[table]!;
  return childrenNamed(body, 'tr').map((row) => childrenNamed(row, 'td').map(textOf));
}

/** The labels in the lists of cutting orders, without the times behind them. */
function freed(sheet: Element): string[] {
  return orderLists(sheet)
    .flat()
    .map((item) => item.replace(/ \d+:\d\d$/, ''));
}

function sumOf(counts: readonly number[]): number {
  return counts.reduce((sum, count) => sum + count, 0);
}

function orderLists(sheet: Element): string[][] {
  return named(sheet, 'ol').map((list) => childrenNamed(list, 'li').map(textOf));
}

/** The sections of all bites, each with one picture. */
function bitesIn(sheet: Element): Element[] {
  const sections = named(sheet, 'section').filter(({ attributes }) =>
    attributes['aria-label']?.startsWith('Bite '),
  );
  for (const section of sections) expect(named(section, 'figure')).toHaveLength(1);
  return sections;
}

/** What is said above the bites of each roll, by its heading. */
function rollsIn(sheet: Element): Map<string, string> {
  const words = textOf(sheet);
  const heads = named(sheet, 'section')
    .filter((section) => named(section, 'h2').length === 1 && named(section, 'dl').length === 1)
    .filter((section) => named(section, 'ol').length === 0);
  expect(words).not.toBe('');
  return new Map(heads.map((section) => [textOf(named(section, 'h2')[0]!), textOf(section)]));
}

describe('the run sheet', () => {
  let written: Written;

  beforeAll(async () => {
    written = await sheetOf(wren);
  });

  it('is sound markup, with no word of the machine’s', () => {
    const words = textOf(written.sheet);
    expect(words).not.toMatch(/undefined|NaN|Infinity|null|\[object/);
    const ids = elementsIn(written.sheet).flatMap(({ attributes }) => attributes['id'] ?? []);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('says what is cut', () => {
    expect(rowsOf(written.sheet, 0)).toEqual([
      ['A1', 'Wren van, cab', 'RHD', '2', 'driver’s side', 'yes', 'set has none', 'black'],
      ['A2', 'Wren van, cab', 'LHD', '1', 'both sides', 'yes', 'set has none', 'not said'],
    ]);
  });

  it('says what it takes: as much of each material as its lay is long', () => {
    const { lays, parts } = written.record;
    const rows = rowsOf(written.sheet, 1);
    expect(rows.map(([title]) => title)).toEqual([
      'carpet for tests',
      'board for tests',
      'rubber for tests',
    ]);
    for (const [i, [, needed, onRoll, , count, bites]] of rows.entries()) {
      const { length, material } = lays[i]!;
      const metres = Number.parseFloat(needed!);
      expect(metres * 1000).toBeGreaterThanOrEqual(length - 1e-6);
      expect(metres * 1000).toBeLessThan(length + 10);
      expect(onRoll).toBe(material === 'loop' ? '9.00 m' : 'length not said');
      expect(Number(count)).toBe(parts.filter((one) => one.material === material).length);
      expect(Number(bites)).toBe(written.bites[i]);
    }
  });

  it('shows each bite and lists every part once as it comes free', () => {
    const { parts } = written.record;
    const bites = sumOf(written.bites);
    expect(bites).toBeGreaterThan(written.bites.length);
    expect(bitesIn(written.sheet)).toHaveLength(bites);
    expect(freed(written.sheet).sort()).toEqual(parts.map(({ label }) => label).sort());
  });

  it('says for each part when it is begun, later and later in a bite', () => {
    const lists = orderLists(written.sheet);
    expect(lists).toHaveLength(sumOf(written.bites));
    for (const items of lists) {
      const seconds = items.map((item) => {
        const [, minutes, rest] = / (\d+):(\d\d)$/.exec(item)!;
        return 60 * Number(minutes) + Number(rest);
      });
      expect(seconds).toEqual(seconds.toSorted((a, b) => a - b));
    }
  });

  it('speaks of a pile only where the material has one', () => {
    const said = rollsIn(written.sheet);
    expect([...said.keys()]).toEqual(['carpet for tests', 'board for tests', 'rubber for tests']);
    expect(said.get('carpet for tests')).toMatch(/FACE UP.*the pile up.*Pile leans/s);
    for (const name of ['board for tests', 'rubber for tests']) {
      expect(said.get(name)).toContain('FACE UP');
      expect(said.get(name)).not.toMatch(/pile/i);
    }
    expect(said.get('board for tests')).toContain('goes against the carpet up');
  });

  it('gives the numbers in the picture of a bite the meaning that they have in its list', () => {
    for (const bite of bitesIn(written.sheet)) {
      const items = named(bite, 'li').map((item) => textOf(item).replace(/ \d+:\d\d$/, ''));
      const drawn = named(bite, 'g').filter(({ attributes }) => attributes['text-anchor']);
      const names = drawn.map((group) => named(group, 'text').map(textOf));
      const labels = names.map((said) =>
        said.length === 1
          ? items[Number(said[0]) - 1]
          : `${said.slice(0, -1).join('')}.${said.at(-1)}`,
      );
      expect(labels.sort()).toEqual(items.sort());
    }
  });

  it('has the cautions', () => {
    const words = textOf(written.sheet);
    expect(words).toContain('no emergency stop');
    expect(words).toContain('dry program first');
  });

  it('says which holes are left to the bench, and how large they are', async () => {
    // 3 mm is below the smallest radius that the knife of the long bay follows.
    const tight = redrawn('REST', (entities) =>
      entities.map((e) =>
        e.kind === 'path' && e.layer === 'HOLE' ? { ...e, path: circle({ x: 460, y: 740 }, 3) } : e,
      ),
    );
    const { sheet } = await sheetOf(tight);
    const rows = named(sheet, 'tbody').flatMap((_, i) => rowsOf(sheet, i));
    for (const part of ['rest-right.1.A1', 'rest-left.1.A2', 'rest-board-left.1.A2']) {
      expect(rows).toContainEqual([part, 'hole', '6.0 x 6.0 mm']);
    }
  });

  it('says findings with the names of files as from the run file', async () => {
    const { sheet } = await sheetOf(
      replaced(
        wren,
        drawingFile,
        'ENTITIES\n',
        'ENTITIES\n  0\nLINE\n  8\nNOTE\n 10\n0\n 20\n0\n 11\n9\n 21\n0\n 31\n5\n',
      ),
    );
    const items = named(sheet, 'li').map(textOf);
    expect(items).toContainEqual(
      expect.stringMatching(/^wren\/wren\.dxf:\d+: LINE on layer NOTE rises out of the sheet/),
    );
  });
});

describe('the run sheet of several rolls', () => {
  const rolls = `loop:
    - { name: rest, outline: [[0, 0], [3000, 0], [2800, 1500], [0, 1500]] }
    - { name: B2, length: 9000, dyeLot: "7", defects: [[[500, 300], [620, 300], [560, 400]]] }`;

  it('says of each what it is called, what its files are and what is to be kept off', async () => {
    const { sheet, record } = await sheetOf(
      replaced(wren, runFile, 'loop: { length: 9000, dyeLot: "7" }', rolls),
    );
    expect(record.lays.map(({ roll }) => roll)).toEqual(['rest', 'B2', null, null]);
    const headings = named(sheet, 'h2').map(textOf);
    expect(headings).toContain('carpet for tests, roll rest');
    expect(headings).toContain('carpet for tests, roll B2');
    expect(headings).toContain('board for tests');
    const facts = named(sheet, 'dl').map((list) =>
      named(list, 'div').map((row) => elementsIn(row).map(textOf)),
    );
    const [rest, b2, board] = facts.map((rows) => new Map(rows as [string, string][]));
    expect(rest!.get('Files')).toBe('first loop-rest.dry.nc, then loop-rest.nc or .dxf');
    expect(rest!.get('Remnant')).toContain('outline');
    expect(rest!.has('Defects avoided')).toBe(false);
    expect(rest!.get('Dye lot')).toContain('not said');
    expect(rest!.get('Needed')).toContain('of 3.00 m');
    expect(b2!.get('Files')).toBe('first loop-B2.dry.nc, then loop-B2.nc or .dxf');
    expect(b2!.has('Remnant')).toBe(false);
    // From 500 to 620 mm, two decimals of a metre.
    expect(b2!.get('Defects avoided')).toBe('0.50 m to 0.62 m from the start of the roll');
    expect(b2!.get('Dye lot')).toBe('7');
    expect(board!.get('Files')).toBe('first board.dry.nc, then board.nc or .dxf');
    expect(freed(sheet).sort()).toEqual(record.parts.map(({ label }) => label).sort());
    expect(textOf(sheet)).not.toMatch(/undefined|NaN|Infinity|null/);
  });
});

describe('free text on the run sheet', () => {
  const cutter = readFileSync(
    join(import.meta.dirname, '../../../shared/cutters/long-bay.yaml'),
    'utf8',
  );

  const same = (text: string): [string, string] => [text, text];

  it.each([
    same('<script>alert("x")</script>'),
    same(`Fish & chips > "quotes" & 'marks' &amp;`),
    same('Übergröße, 三角形, مرحبا, 🚐'),
    same('--> ]]> </style> </title>'),
    // Characters that no markup may hold.
    ['a\u000Bb\uFFFFc', 'a\uFFFDb\uFFFDc'],
  ])('%j stands as it was written', async (free, meant) => {
    const quoted = JSON.stringify(free);
    let files = replaced(wren, runFile, 'Wren, three sets', quoted);
    files = replaced(files, runFile, 'binding: black', `binding: ${quoted}`);
    files = replaced(files, runFile, '"7"', quoted);
    files = replaced(files, 'shared/materials/loop.yaml', 'carpet for tests', quoted);
    files = {
      ...files,
      'shared/cutters/long-bay.yaml': cutter.replace(/^title: .*/m, `title: ${quoted}`),
    };
    const { sheet } = await sheetOf(files);
    expect(named(sheet, 'h1').map(textOf)).toEqual([`Run sheet: ${meant}`]);
    expect(named(sheet, 'title').map(textOf)).toContain(`Run sheet: ${meant}`);
    expect(rowsOf(sheet, 0)[0]!.at(-1)).toBe(meant);
    expect(rowsOf(sheet, 1)[0]![0]).toBe(meant);
    expect(named(sheet, 'h2').map(textOf)).toContain(meant);
    expect(named(sheet, 'dd').map(textOf)).toContain(meant);
    expect(textOf(named(sheet, 'p')[0]!)).toContain(` on ${meant}.`);
    expect(named(sheet, 'script')).toEqual([]);
  });
});
