/** An order's material, colour, finish and people stand on everything that is made of it, and nowhere else. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { beforeAll, describe, expect, it } from 'vitest';
import { cut } from '../../src/jobs/cut.ts';
import { recut } from '../../src/jobs/recut.ts';
import type { Finding } from '../../src/base/findings.ts';
import { findingLines } from '../../src/cli/print.ts';
import { summaryLines } from '../../src/papers/facts/summary.ts';
import type { PartRecord } from '../../src/program/record/run-record.ts';
import { carpetOf, colouredWren } from '../support/coloured-wren.ts';
import { inFolder, replaced, runFile } from '../support/wren.ts';
import { elementsIn, readMarkup, tableRows, textOf } from './markup.ts';
import { pagesOf, poppler } from './pdf-tools.ts';
import type { WrittenRun } from './wren-papers.ts';
import { writtenRun } from './wren-papers.ts';

let run: WrittenRun;

beforeAll(async () => {
  run = await writtenRun(colouredWren);
});

function table(name: string): Record<string, string>[] {
  return Papa.parse<Record<string, string>>(run.text(name).replace(/^\uFEFF/, ''), {
    header: true,
    skipEmptyLines: true,
  }).data;
}

function pdfText(name: string): string {
  return pagesOf(run.files.get(name)!).join(' ').replaceAll(/\s+/g, ' ');
}

function htmlText(name: string): string {
  return textOf(readMarkup(run.text(name).replace(/<style>.*?<\/style>/s, '')));
}

/** What a part must be of, by what the orders say and nothing that was made. */
function meant({ order, kind }: Pick<PartRecord, 'order' | 'kind'>): [string, string | undefined] {
  if (kind === 'pad') return ['rubber', undefined];
  if (kind === 'board') return ['board', undefined];
  const [material, colour] = carpetOf[order]!;
  return [material, colour];
}

describe('material and colour of a part', () => {
  it('are those of its order, in the record and on the roll that it lies on', () => {
    const { parts, lays } = run.record;
    // A1 twice and A2: floor, dash, two mats, rest, cover and a board each; one pad and two.
    // A3: floor and two mats. A4: rest and its board.
    expect(parts).toHaveLength(2 * 8 + 9 + 3 + 2);
    for (const part of parts) {
      expect([part.label, part.material, part.colour]).toEqual([part.label, ...meant(part)]);
      const [lay, ...more] = lays.filter(({ placements }) =>
        placements.some(({ label }) => label === part.label),
      );
      expect(more).toEqual([]);
      expect([lay!.material, lay!.colour]).toEqual(meant(part));
    }
  });

  it('stand in parts.csv, with the edge, the thread and the people of the order', () => {
    const rows = table('parts.csv');
    expect(rows).toHaveLength(run.record.parts.length);
    for (const row of rows) {
      const part = run.record.parts.find(({ label }) => label === row['label'])!;
      const [material, colour] = meant(part);
      expect([row['material'], row['colour']]).toEqual([material, colour ?? '']);
      expect(row['roll file']).toBe(
        [material, colour].filter((one) => one !== undefined).join('-'),
      );
      const edges = { A1: 'black', A2: 'sand', A3: 'black', A4: '' }[part.order];
      expect(row['edge colour']).toBe(part.edges.bound > 0 ? edges : '');
      expect(row['thread']).toBe(part.order === 'A1' ? 'dark red' : '');
      const people = { A1: 'Hallam & Daughter', A2: 'K-17', A3: '', A4: '' }[part.order];
      expect(row['customer']).toBe(people);
      expect(row['due']).toBe({ A1: '2026-12-04', A2: '2026-12-02' }[part.order] ?? '');
    }
  });

  it.skipIf(poppler.missing)(`stand on its label${poppler.note}`, () => {
    const { facts } = run;
    const { columns, rows } = facts.labelStock;
    const pages = pagesOf(run.files.get('labels.pdf')!);
    expect(pages).toHaveLength(Math.ceil(run.record.parts.length / (columns * rows)));
    const text = pdfText('labels.pdf');
    const count = (words: string): number => text.split(words).length - 1;
    const carpets = (order: RegExp): number =>
      run.record.parts.filter((part) => part.kind === 'piece' && order.test(part.order)).length;
    expect(count('claret, carpet for tests')).toBe(carpets(/A1|A3/));
    expect(count('moss, wool for tests')).toBe(carpets(/A2/));
    expect(count('fawn, carpet for tests')).toBe(carpets(/A4/));
    expect(count('thread dark red')).toBeGreaterThan(0);
    expect(count('due 2026-12-02, for K-17')).toBe(9);
  });

  it('stand on the sewing sheet of the order and on no other', () => {
    const colours = ['claret', 'moss', 'fawn'];
    for (const [order, [, colour]] of Object.entries(carpetOf)) {
      const text = htmlText(`sewing-${order}.html`);
      expect(colours.filter((one) => text.includes(one))).toEqual([colour]);
    }
    expect(htmlText('sewing-A1.html')).toContain('Double stitch the dash.');
    expect(htmlText('sewing-A1.html')).toContain('No chalk.');
    expect(htmlText('sewing-A1.html')).not.toContain('in the warm');
    expect(htmlText('sewing-A2.html')).not.toContain('Hallam');
  });

  it('stand on the fitting sheet, with the note for the customer and not that for the bench', () => {
    const svg = textOf(readMarkup(run.text('fitting-A1.svg'))).replaceAll(/\s+/g, ' ');
    expect(svg).toContain('Carpet: carpet for tests, claret.');
    expect(svg).toContain('Let it lie in the warm for a day.');
    for (const words of ['Double stitch', 'dark red', '2026-12-04'])
      expect(svg).not.toContain(words);
  });

  it('stand on the run sheet, with the orders that share a roll', () => {
    const rows = tableRows(run.text('sheet.html'));
    expect(rows).toContainEqual(['carpet for tests, claret', 'A1, A3', '2026-12-04']);
    expect(rows).toContainEqual(['carpet for tests, fawn', 'A4', '']);
    expect(rows).toContainEqual(['board for tests', 'A1, A2, A4', '2026-12-02']);
    expect(rows).toContainEqual([
      'A2',
      'wool for tests, moss',
      'overlocked edge, sand',
      'the whole set',
      'K-17',
      '2026-12-02',
    ]);
    expect(
      rows.find(([order, , , extent]) => order === 'A3' && extent === '3 of 8 parts of the set'),
    ).toBeDefined();
  });

  it('is told in the terminal in short', () => {
    const lines = summaryLines(run.facts);
    // A2 is due on the 2nd, A1 on the 4th; A4, the only one on the fawn roll, has no day.
    const rolls = lines.slice(lines.findIndex((line) => line.startsWith('rolls')));
    expect(rolls.slice(0, 5)).toEqual([
      'rolls     wool-moss: 1 order, A2',
      '          board: 3 orders, A1, A2, A4',
      '          rubber: 2 orders, A1, A2',
      '          loop-claret: 2 orders, A1, A3',
      '          loop-fawn: 1 order, A4',
    ]);
    expect(lines).toContain('due       2026-12-02 (A2), 2026-12-04 (A1)');
  });

  it('is told with how many sets of an order lie on a roll, where others lie elsewhere', () => {
    const orders = run.facts.orders.map((one) =>
      one.order.order === 'A2' ? { ...one, order: { ...one.order, quantity: 2 } } : one,
    );
    const lines = summaryLines({ ...run.facts, orders });
    expect(lines).toContain('rolls     wool-moss: 1 order, A2 (1 of 2 sets)');
  });

  it('is told with as many findings as have a line: what is so in several places is one', () => {
    const tight = (x: number): Finding => ({
      severity: 'warning',
      rule: 'tight',
      message: 'a corner is too tight.',
      todo: 'Round it.',
      where: { piece: 'mat', part: 'mat-left', at: { x, y: 0 } },
    });
    const findings = [tight(1), tight(2), { ...tight(3), rule: 'other' }];
    const lines = summaryLines({ ...run.facts, findings });
    expect(lines).toContain('findings  2 warnings, 0 notes');
    expect(findingLines(findings)).toHaveLength(2);
  });

  it('stand over the picture of the lay, with the colour as it is', () => {
    for (const [file, words, sample] of [
      ['loop-claret.svg', 'carpet for tests, claret', '#6b1f2a'],
      ['wool-moss.svg', 'wool for tests, moss', '#55603c'],
    ] as const) {
      const elements = elementsIn(readMarkup(run.text(file)));
      expect(elements.filter(({ name }) => name === 'text').map(textOf)).toContain(words);
      const swatches = elements.filter(({ attributes }) => attributes['fill'] === sample);
      expect(swatches).toHaveLength(1);
    }
    expect(run.text('board.svg')).not.toContain('cloth:');
  });
});

describe('what an order says of people', () => {
  it('is in no program and no drawing', () => {
    const said = ['Hallam', 'Daughter', 'K-17', '2026-12', 'Double stitch', 'warm', 'dark red'];
    const machine = [...run.files.keys()].filter((name) => /\.(nc|dxf)$/.test(name));
    // Five rolls, each with a drawing, a program and a dry program at least.
    expect(machine.length).toBeGreaterThanOrEqual(15);
    for (const name of machine) {
      const text = run.text(name).toLowerCase();
      expect(said.filter((words) => text.includes(words.toLowerCase()))).toEqual([]);
    }
  });
});

describe('a finish that is no tape', () => {
  it('is the verb of the step, on sheets and in tables, and is added up by itself', () => {
    const verbs = (order: string): Set<string> =>
      new Set(
        run.record.parts
          .filter((part) => part.order === order && part.edges.bound > 0)
          .flatMap(({ next }) => next.map(([verb]) => verb).filter((verb) => /^[BO]/.test(verb))),
      );
    expect(verbs('A1')).toEqual(new Set(['Bind', 'Board']));
    expect(verbs('A2')).toEqual(new Set(['Overlock', 'Board']));
    const sewing = htmlText('sewing-A2.html');
    expect(sewing).toContain('To overlock in all');
    expect(sewing).not.toMatch(/[Tt]ape|Bind:|\bbound\b/);
    const rows = table('binding.csv').filter(({ order }) => order === 'A2');
    expect(new Set(rows.map((row) => `${row['tape']} ${row['colour']} ${row['finish']}`))).toEqual(
      new Set(['overlocked edge sand overlock']),
    );
    // Its file: 40 mm for each run, and nothing for curves.
    for (const row of rows) {
      expect(Number(row['to cut mm'])).toBeCloseTo(
        Number(row['edges mm']) + 40 * Number(row['runs']),
        0,
      );
    }
  });
});

describe('an order of part of a set', () => {
  it('has parts that are, byte for byte, those of the whole set', async () => {
    let files = replaced(
      colouredWren,
      runFile,
      ', alone: [floor, mat], without: [mat-pad-right]',
      '',
    );
    files = replaced(files, runFile, ', alone: [rest]', '');
    const whole = await writtenRun(files);
    const shape = (part: PartRecord): string => JSON.stringify({ ...part, next: [] });
    const ofWhole = new Map(whole.record.parts.map((part) => [part.label, shape(part)]));
    const own = run.record.parts.filter(({ order }) => order === 'A3' || order === 'A4');
    expect(own.map(({ label }) => label).toSorted()).toEqual([
      'floor.1.A3',
      'mat-left.1.A3',
      'mat-right.1.A3',
      'rest-board-left.1.A4',
      'rest-left.1.A4',
    ]);
    for (const part of own) expect(shape(part)).toBe(ofWhole.get(part.label));
  });

  it('sews nothing to what is not there, and says so wherever it speaks of the seam', () => {
    const floor = run.record.parts.find(({ label }) => label === 'floor.1.A3')!;
    const words = 'to dash, which is not in this order; its allowance is left';
    expect(floor.next).toContainEqual(['Seam A', words]);
    expect(floor.next.filter(([verb]) => verb === 'Sew')).toEqual([]);
    expect(htmlText('sewing-A3.html')).toContain(`Seam A: ${words}`);
    expect(htmlText('sewing-A3.html')).not.toContain('is sewn to');
    const fitting = textOf(readMarkup(run.text('fitting-A3.svg'))).replaceAll(/\s+/g, ' ');
    expect(fitting).toContain('edge to Dash is not sewn');
    expect(fitting).not.toMatch(/sewn to it|[Ss]eam A|allowance/);
    const mat = run.record.parts.find(({ label }) => label === 'mat-right.1.A3')!;
    expect(mat.next).toContainEqual(['Pad', 'mat-pad-right, which is not in this order']);
    // The whole set still sews it.
    const sewn = run.record.parts.find(({ label }) => label === 'floor.1.A1')!;
    expect(sewn.next).toContainEqual(['Sew', 'A to dash']);
  });

  it('is numbered and listed by what is ordered, the rest of the plan faint', () => {
    const elements = elementsIn(readMarkup(run.text('fitting-A4.svg')));
    const titles = elements.filter(({ name }) => name === 'title').map(textOf);
    expect(titles.filter((title) => /^(rest|floor|dash|mat|cover)/.test(title))).toEqual([
      'rest-left',
    ]);
    const dotted = elements.filter(
      ({ attributes }) => attributes['stroke-dasharray'] === '0.8 0.8',
    );
    // Those in the plan, and their entry in its key.
    expect(dotted).toHaveLength(2);
    // Floor, dash, two mats and the cover.
    expect(dotted[0]!.attributes['d']!.split('M').length - 1).toBe(5);
    expect(run.text('fitting-A1.svg')).not.toContain('stroke-dasharray="0.8 0.8"');
  });
});

describe('a part that is cut again', () => {
  it('is told of the same cloth, colour and people as it was first', async () => {
    await inFolder(colouredWren, async (root) => {
      const folder = join(root, 'out/wren-week');
      const out = join(root, 'out/again');
      const sharedFolder = join(root, 'shared');
      await cut({ runFile: join(root, runFile), sharedFolder, out: folder, force: false });
      const labels = ['mat-right.1.A1', 'rest-left.1.A2'];
      const search = { seed: 1, limit: { rounds: 2 }, threads: 1 };
      const facts = await recut({ folder, labels, out, force: false, search });
      expect(facts.parts.map(({ words }) => words)).toEqual([
        {
          cloth: 'carpet for tests',
          colour: 'claret',
          lines: ['edge black, thread dark red', 'due 2026-12-04, for Hallam & Daughter'],
        },
        {
          cloth: 'wool for tests',
          colour: 'moss',
          lines: ['edge sand', 'due 2026-12-02, for K-17'],
        },
      ]);
      expect(facts.materials.map(({ lay }) => lay.roll.colour)).toEqual(['claret', 'moss']);
      const html = readFileSync(join(out, 'sheet.html'), 'utf8').replace(
        /<style>.*?<\/style>/s,
        '',
      );
      expect(textOf(readMarkup(html))).toContain('claret, carpet for tests; edge black');
      if (poppler.missing) return;
      const [page] = pagesOf(new Uint8Array(readFileSync(join(out, 'labels.pdf'))));
      for (const said of ['claret, carpet for tests', 'moss, wool for tests', 'RECUT']) {
        expect(page).toContain(said);
      }
    });
  });
});

describe('whatever an order says', () => {
  it('is printed as it is and is never markup, nor a formula', async () => {
    const hostile = `=1+1 <b>&amp;"x', 三角形`;
    let files = replaced(colouredWren, runFile, 'Hallam & Daughter', JSON.stringify(hostile));
    files = replaced(files, runFile, 'dark red', JSON.stringify(hostile));
    files = replaced(
      files,
      runFile,
      '"Let it lie in the warm for a day."',
      JSON.stringify(hostile),
    );
    files = replaced(files, runFile, 'No chalk.', '<script>x</script>');
    const written = await writtenRun(files);
    for (const name of written.files.keys()) {
      if (!/\.(html|svg)$/.test(name)) continue;
      const bare = written.text(name).replace(/<style>.*?<\/style>/s, '');
      const tags = elementsIn(readMarkup(bare)).map((element) => element.name);
      expect(tags.filter((tag) => tag === 'b' || tag === 'script')).toEqual([]);
    }
    const { data } = Papa.parse<Record<string, string>>(
      written.text('parts.csv').replace(/^\uFEFF/, ''),
      { header: true, skipEmptyLines: true },
    );
    const own = data.filter(({ order }) => order === 'A1');
    expect(new Set(own.map((row) => row['customer']))).toEqual(new Set([`'${hostile}`]));
    expect(new Set(own.map((row) => row['thread']))).toEqual(new Set([`'${hostile}`]));
  });
});

describe('orders in another order', () => {
  it('have the same parts', async () => {
    const lines = [...String(colouredWren[runFile]).matchAll(/^ {2}- \{ order: .*\n/gm)].map(
      ([line]) => line,
    );
    expect(lines).toHaveLength(4);
    const turned = replaced(colouredWren, runFile, lines.join(''), lines.toReversed().join(''));
    const other = await writtenRun(turned);
    const parts = ({ record }: WrittenRun): string[] =>
      record.parts.map((part) => JSON.stringify(part)).toSorted();
    expect(other.record.parts[0]!.order).toBe('A4');
    expect(parts(other)).toEqual(parts(run));
  });
});
