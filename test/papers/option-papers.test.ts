/** What papers say of parts that go with options, and of orders that are of part of a set or of less. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { box, hole, on } from '../../patterns/fenlark/pen.ts';
import { cut } from '../../src/jobs/cut.ts';
import { recut } from '../../src/jobs/recut.ts';
import { summaryLines } from '../../src/papers/facts/summary.ts';
import { defaultLabelStock } from '../../src/pattern/shop/label-stock.ts';
import type { PartRecord } from '../../src/program/record/run-record.ts';
import type { Files } from '../support/wren.ts';
import {
  drawingFile,
  drawingText,
  inFolder,
  replaced,
  runFile,
  setFile,
  wren,
  wrenBlocks,
} from '../support/wren.ts';
import { elementsIn, readMarkup, tableRows, textOf } from './markup.ts';
import { poppler, wordsOf } from './pdf-tools.ts';
import { saidOnLabel } from './label-fields.ts';
import type { WrittenRun } from './wren-papers.ts';
import { writtenRun } from './wren-papers.ts';

/** With a long console there is no dash; the cover came in a new shape; an overdrive takes a hole in the floor. */
function drawn(): string {
  const blocks = wrenBlocks().map(({ name, entities }) => {
    const outlineOn = (layer: string) =>
      entities.map((one) => (one.layer === 'OUTLINE' ? { ...one, layer } : one));
    if (name === 'FLOOR')
      return { name, entities: [...entities, ...on('HOLE-WITH-OD', hole(0, 400, 20))] };
    if (name === 'DASH') return { name, entities: outlineOn('OUTLINE-WITHOUT-CS-LONG') };
    if (name !== 'COVER') return { name, entities };
    const late = on('OUTLINE-WITH-LATE', box(-700, 0, -300, 200, 25));
    return { name, entities: [...outlineOn('OUTLINE-WITHOUT-LATE'), ...late] };
  });
  return drawingText(blocks);
}

const options = `options:
  od: { words: overdrive switch, default: false }
  cs: { words: centre console, values: [none, long], default: none, price: { long: 35.00 EUR } }
  late: { words: late shape, default: true }
pieces:`;

const orders = `orders:
  - { order: B1, set: wren, hand: RHD, due: 2026-12-09, options: { od: true }, thread: red }
  - { order: B2, set: wren, hand: RHD, customer: Hill, options: { cs: long, late: false } }
  - { order: B3, set: wren, hand: RHD, due: 2026-12-02, customer: Moor, alone: [floor, cover], options: { cs: long } }
  - { order: B4, set: wren, hand: LHD, heelPads: none, boards: false }
`;

const optional: Files = {
  ...replaced(
    replaced(wren, setFile, 'pieces:', options),
    runFile,
    /orders:\n(?: {2}- .*\n)+/,
    orders,
  ),
  [drawingFile]: drawn(),
};

let run: WrittenRun;

beforeAll(async () => {
  run = await writtenRun(optional);
});

function htmlText(name: string): string {
  return textOf(readMarkup(run.text(name).replace(/<style>.*?<\/style>/s, '')));
}

function pictureText(name: string): string {
  return textOf(readMarkup(run.text(name))).replaceAll(/\s+/g, ' ');
}

function part(label: string): PartRecord {
  return run.record.parts.find((one) => one.label === label)!;
}

describe('a part whose piece goes with options', () => {
  it('has in the record those that its own layers name, and no others', () => {
    expect(part('floor.1.B1').shape).toEqual([['overdrive switch', 'od']]);
    expect(part('floor.1.B2').shape).toEqual([['no overdrive switch', 'no od']]);
    expect(part('dash.1.B1').shape).toEqual([['centre console: none', 'cs none']]);
    expect(part('cover-left.1.B1').shape).toEqual([['late shape', 'late']]);
    expect(part('cover-left.1.B2').shape).toEqual([['no late shape', 'no late']]);
    for (const name of ['mat-left', 'mat-right', 'mat-pad-right', 'rest-right'])
      expect(part(`${name}.1.B1`)).not.toHaveProperty('shape');
  });

  it('has no such entry where a set has no options', async () => {
    const plain = await writtenRun();
    expect(plain.text('run.json')).not.toContain('"shape"');
  });

  it.skipIf(poppler.missing)(`says them on its label, on both stocks${poppler.note}`, async () => {
    const small = await writtenRun({
      ...replaced(optional, runFile, 'cutter:', 'labels: a4-21\ncutter:'),
      'shared/labels/a4-21.yaml': readFileSync('shared/labels/a4-21.yaml', 'utf8'),
    });
    for (const written of [run, small]) {
      const { words } = wordsOf(written.files.get('labels.pdf')!);
      const own = (label: string): string => saidOnLabel(words, label, written.facts.labelStock);
      expect(own('cover-left.1.B1')).toMatch(/RHD late shape order B1/);
      expect(own('cover-left.1.B2')).toMatch(/RHD no late shape order B2/);
      expect(own('floor.1.B1')).toMatch(/RHD overdrive switch order B1/);
      expect(own('mat-left.1.B1')).not.toMatch(/late|overdrive|console/);
      expect(own('floor.1.B1')).not.toMatch(/late|console|\(/);
    }
  });

  it('says them on the sewing sheet beside its picture', () => {
    expect(htmlText('sewing-B2.html')).toContain('Cut for: no late shape.');
    expect(htmlText('sewing-B1.html')).toContain('Cut for: late shape.');
    expect(htmlText('sewing-B1.html')).toContain('Cut for: overdrive switch.');
    expect(htmlText('sewing-B1.html').split('Cut for:')).toHaveLength(4);
  });

  it('says them when it is cut again, by the record alone', async () => {
    await inFolder(optional, async (root) => {
      const folder = join(root, 'out/wren-week');
      const out = join(root, 'out/again');
      const sharedFolder = join(root, 'shared');
      await cut({ runFile: join(root, runFile), sharedFolder, out: folder, force: false });
      const search = { seed: 1, limit: { rounds: 2 }, threads: 1 };
      const wanted = ['cover-left.1.B2', 'mat-left.1.B1'];
      const facts = await recut({ folder, labels: wanted, out, force: false, search });
      expect(facts.parts.map(({ title, shape }) => [title, shape])).toEqual([
        ['Wren van, cab', []],
        ['Wren van, cab', [['no late shape', 'no late']]],
      ]);
      expect(readFileSync(join(out, 'sheet.html'), 'utf8')).toContain('no late shape');
      if (poppler.missing) return;
      const { words } = wordsOf(new Uint8Array(readFileSync(join(out, 'labels.pdf'))));
      expect(saidOnLabel(words, 'cover-left.1.B2', defaultLabelStock)).toMatch(
        /RHD no late shape order B2/,
      );
    });
  });
});

describe('a seam edge whose partner is not there with these options', () => {
  // The floor is 1100 mm wide, and its whole front is sewn to the dash.
  const words = 'Seam edge, 1100 mm: sewn to nothing here; its allowance is left';

  it('has a step that says so, on every paper', () => {
    const { findings } = run.facts;
    expect(findings.map(({ rule }) => rule)).toContain('seam-alone');
    expect(part('floor.1.B2').next.map((step) => step.join(': '))).toContain(words);
    expect(htmlText('sewing-B2.html')).toContain(`floor: ${words}.`);
    expect(pictureText('fitting-B2.svg')).toContain('An edge of 1100 mm is sewn to nothing');
    // The set itself has no dash: nothing says that it is not in this order.
    expect(htmlText('sewing-B3.html')).toContain(words);
    expect(htmlText('sewing-B3.html')).not.toMatch(/\bdash\b/);
  });

  it('has no step where it is sewn', () => {
    expect(part('floor.1.B1').next).toContainEqual(['Sew', 'A to dash']);
    for (const name of run.files.keys()) {
      if (/^(sewing|fitting)-B[14].*(html|svg)$/.test(name))
        expect(run.text(name)).not.toContain('sewn to nothing');
    }
  });

  it('is promised no letter in the legend', () => {
    const promise = 'sewn to the part of that letter';
    expect(htmlText('sewing-B1.html')).toContain(promise);
    expect(htmlText('sewing-B2.html')).not.toContain(promise);
    expect(htmlText('sewing-B2.html')).toContain('seam: sewn as its step says');
  });
});

describe('an order of less than the whole set', () => {
  it('says what is left out as a kind, on run, sewing and fitting sheet', () => {
    const words = 'the whole set, without heel pads and boards';
    expect(htmlText('sheet.html')).toContain(words);
    expect(htmlText('sewing-B4.html')).toContain(words);
    expect(pictureText('fitting-B4.svg')).toContain(words);
    // B1 wants all; it is the only other whole set with a dash.
    expect(htmlText('sewing-B1.html')).toContain('the whole set');
    expect(htmlText('sewing-B1.html')).not.toContain('the whole set, without');
  });

  it('pays no option, and its cost sheet says which and for how much', () => {
    const text = htmlText('cost.html');
    const [, b1, b2, b3, b4] = text.split(/Order B\d: /);
    const words =
      'Not charged, as only part of the set is ordered: centre console, long (35.00 EUR).';
    expect(b2).toContain('Option: centre console, long1 set35.00 EUR');
    expect(b3).toContain(words);
    expect(b3).not.toContain('Option:');
    for (const other of [b1, b2, b4]) expect(other).not.toContain('Not charged');
  });

  it('is told on the cost sheet with customer, day, parts and cloth', () => {
    const [, b1, , b3] = htmlText('cost.html').split(/Order B\d: /);
    expect(b1).toContain('Due2026-12-09');
    expect(b1).toContain('Partsthe whole set');
    expect(b1).toContain('Carpetcarpet for tests');
    expect(b3).toContain('CustomerMoor');
    expect(b3).toContain('Due2026-12-02');
    // With a long console there are: floor, two mats with a pad, the rest with its board, the cover.
    expect(b3).toContain('Parts2 of 7 parts of the set: floor, cover-left');
  });

  it('is no set in the terminal', () => {
    const line = summaryLines(run.facts).find((one) => one.startsWith('orders'))!;
    expect(line).toContain(
      '4 orders, 3 sets and part of 1 (1 RHD + 1 RHD + part of 1 RHD + 1 LHD)',
    );
  });
});

describe('rolls that orders share', () => {
  it('stand by the first day on which something of them is due, those without a day last', () => {
    const rows = tableRows(run.text('sheet.html')).filter(
      (row) => row.length === 3 && row[0]!.endsWith('for tests'),
    );
    // B3 (2nd) has carpet alone; B1 (9th) has a board and a pad too.
    expect(rows).toEqual([
      ['carpet for tests', 'B1, B2, B3, B4', '2026-12-02'],
      ['board for tests', 'B1, B2', '2026-12-09'],
      ['rubber for tests', 'B1, B2', '2026-12-09'],
    ]);
  });
});

describe('the table of pads, boards and underlays', () => {
  it('has the title of a material, and not the name of its file', () => {
    const cells = elementsIn(readMarkup(run.text('sewing-B1.html')))
      .filter(({ name }) => name === 'td')
      .map(textOf);
    expect(cells).toContain('rubber for tests');
    expect(cells).not.toContain('rubber');
  });
});
