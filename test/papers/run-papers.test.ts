import { beforeAll, describe, expect, it } from 'vitest';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { recordedContour } from '../../src/program/record/figures.ts';
import { replaced, runFile, setFile, wren } from '../support/wren.ts';
import type { OrderFacts } from '../../src/papers/facts/run-facts.ts';
import { fittingGuide } from '../../src/papers/facts/fitting-guide.ts';
import { fittingPicture } from '../../src/papers/pictures/fitting/fitting-picture.ts';
import { fittingPlan } from '../../src/papers/pictures/fitting/fitting-plan.ts';
import { fittingSheet } from '../../src/papers/sheets/fitting-sheet.ts';
import { oblong, piece } from '../handing/fixtures.ts';
import { elementsIn, readMarkup, tableRows, textOf } from './markup.ts';
import { pagesOf, poppler, wordsOf } from './pdf-tools.ts';
import type { WrittenRun } from './wren-papers.ts';
import { csvRows, writtenRun } from './wren-papers.ts';

let run: WrittenRun;

const withPrices = [
  ['shared/materials/loop.yaml', /^kind/m, 'price: 24.50 EUR\nkind'],
  ['shared/materials/board.yaml', /^kind/m, 'price: 10 kr\nkind'],
  ['shared/bindings/tape.yaml', /^width/m, 'price: 0.995 EUR\nwidth'],
] as const;

beforeAll(async () => {
  let files = replaced(
    wren,
    setFile,
    'covered: the seat base }',
    'covered: the seat base, tucked: the sill trim }',
  );
  for (const [file, from, to] of withPrices) files = replaced(files, file, from, to);
  run = await writtenRun(files);
});

describe('parts.csv', () => {
  it('has every part once, measured as run.json has it', () => {
    const rows = csvRows(run.text('parts.csv'));
    const { parts } = run.record;
    expect(rows.map(([label]) => label).sort()).toEqual(parts.map(({ label }) => label).sort());
    for (const row of rows) {
      const part = parts.find(({ label }) => label === row[0])!;
      const holes = part.inner.reduce(
        (sum, { contour }) => sum + areaOf(recordedContour(contour)),
        0,
      );
      expect(row.slice(1, 9)).toEqual([
        part.name,
        part.piece,
        part.kind,
        part.side ?? 'centre',
        part.hand,
        part.order,
        String(part.set),
        part.material,
      ]);
      expect(Number(row[14])).toBeCloseTo(part.netArea - holes, 0);
      expect(Number(row[15])).toBeCloseTo(part.cutArea - holes, 0);
      const edges = ['bound', 'seam', 'tuck', 'turned', 'raw'] as const;
      for (const [i, kind] of edges.entries()) {
        expect(Number(row[17 + i])).toBeCloseTo(part.edges[kind], 0);
      }
      expect(row).toHaveLength(23);
    }
  });

  it('numbers parts as they come free, material by material, by the order of the drawing', () => {
    const rows = csvRows(run.text('parts.csv'));
    expect(rows.map((row) => Number(row[11]))).toEqual(rows.map((_, i) => i + 1));
    for (const material of ['loop', 'board', 'rubber']) {
      const program = run.text(`${material}.nc`);
      const outlines = [...program.matchAll(/\(([^ ()]+) outline\)/gi)].map(([, label]) =>
        label!.toLowerCase(),
      );
      const numbered = rows
        .filter((row) => row[9] === material)
        .map(([label]) => label!.toLowerCase());
      expect(numbered).toEqual(outlines);
    }
  });
});

describe('binding.csv', () => {
  it('has the tape of each bound part of each set', () => {
    const rows = csvRows(run.text('binding.csv'));
    const bound = run.record.parts.filter(({ edges }) => edges.bound > 0);
    const name = (order: string, set: number | string, part: string): string =>
      `${order} ${set} ${part}`;
    expect(rows.map(([order, set, , part]) => name(order!, set!, part!)).sort()).toEqual(
      bound.map((part) => name(part.order, part.set, part.name)).sort(),
    );
    for (const [order, set, hand, part, tape, colour, length, runs, joints, tight, total] of rows) {
      const record = bound.find(
        (one) => name(one.order, one.set, one.name) === name(order!, set!, part!),
      )!;
      expect([hand, tape, colour]).toEqual([record.hand, 'tape', order === 'A1' ? 'black' : '']);
      expect(Number(length)).toBeCloseTo(record.edges.bound, 0);
      // The tape's file: 250 mm for each run.
      expect(Number(joints)).toBe(250 * Number(runs));
      expect(Number(total)).toBeCloseTo(Number(length) + Number(joints) + Number(tight), 0);
    }
  });
});

describe('the sewing sheet', () => {
  it('is one for each order, with tape, seams and every carpet part', () => {
    expect(run.record.orders).toHaveLength(2);
    for (const { order, quantity } of run.record.orders) {
      const text = textOf(readMarkup(run.text(`sewing-${order}.html`)));
      const own = run.record.parts.filter((part) => part.order === order && part.set === 1);
      expect(own.length).toBeGreaterThan(0);
      for (const { name } of own) expect(text).toContain(name);
      expect(text).toContain(quantity === 1 ? '1 set' : '2 sets, all alike');
    }
  });

  it('adds up the tape of all sets of the order, by colour', () => {
    const rows = csvRows(run.text('binding.csv')).filter(([order]) => order === 'A1');
    const total = rows.reduce((sum, row) => sum + Number(row[10]), 0);
    const [, tape] = tableRows(run.text('sewing-A1.html'));
    expect(tape![0]).toBe('tape, black');
    const metres = Number.parseFloat(tape!.at(-1)!);
    expect(1000 * metres).toBeGreaterThanOrEqual(total - 1);
    expect(1000 * metres).toBeLessThan(total + 11);
  });

  it('says which edges are sewn, how long they are and which notches meet', () => {
    // The floor's front and the dash's rear are 1100 mm; one notch 200 mm beside the middle on each.
    const rows = tableRows(run.text('sewing-A2.html'));
    expect(rows).toContainEqual(['A', 'floor', 'dash', '1100 mm', '10 mm', 'none', 'A1']);
  });

  it('says where the pad goes', () => {
    // The mat is x 120 to 500, y 100 to 560; the pad x 220 to 400, y 180 to 380.
    const text = textOf(readMarkup(run.text('sewing-A1.html')));
    expect(text).toContain(
      'Pad: mat-pad-right, stitched on; 180 mm wide, 200 mm long; 100 mm from the left, 100 mm from the right, 180 mm from the front, 80 mm from the rear',
    );
  });

  it('says where a board lies', () => {
    const row = tableRows(run.text('sewing-A2.html')).find(
      ([, label]) => label === 'rest-board-left',
    )!;
    expect(row.slice(0, 4)).toEqual([
      'Rest board, left',
      'rest-board-left',
      'rest-left',
      'under it, 2 mm inside the finished edge',
    ]);
  });

  it.skipIf(poppler.missing)(`says the same as PDF${poppler.note}`, () => {
    const pages = pagesOf(run.files.get('sewing-A2.pdf')!);
    const text = pages.join(' ').replaceAll(/\s+/g, ' ');
    for (const words of [
      'Sewing and binding: order A2',
      'Bind: 657 mm',
      'Sew: A to dash',
      'rest-board-left',
    ]) {
      expect(text).toContain(words);
    }
    for (const page of pages) expect(page).toMatch(/order A2\s+sheet \d+ of \d+/);
  });
});

describe('the fitting sheet', () => {
  it('numbers every carpet part of the order and says how it goes in', () => {
    for (const { order, hand } of run.record.orders) {
      const svg = readMarkup(run.text(`fitting-${order}.svg`));
      const texts = elementsIn(svg)
        .filter(({ name }) => name === 'text')
        .map(textOf);
      const all = texts.join(' ').replaceAll(/\s+/g, ' ');
      const carpets = run.record.parts.filter(
        (part) => part.order === order && part.set === 1 && part.kind === 'piece',
      );
      // Floor, dash, two mats, rest and cover.
      expect(carpets).toHaveLength(6);
      for (const { name } of carpets) expect(all).toContain(name);
      // The dash is sewn to the floor: they are one step, and its number stands on both and in the list.
      expect(texts.filter((text) => text === '1')).toHaveLength(4);
      expect(all).toContain('Floor, with Dash sewn to it');
      expect(all).toContain(`driver on the ${hand === 'RHD' ? 'right' : 'left'}`);
      expect(all).toContain('under the sill trim');
      expect(all).toContain('under the seat base');
      expect(texts).toEqual(expect.arrayContaining(['LEFT', 'RIGHT', 'FRONT', 'driver']));
    }
  });

  it('has the driver and the pads on the side of the hand', () => {
    const middleOf = (order: string, what: RegExp): number =>
      Number(what.exec(run.text(`fitting-${order}.svg`))![1]);
    const wheel = /<circle cx="([\d.]+)" cy="9" r="5.5"/;
    expect(middleOf('A1', wheel)).toBeGreaterThan(95);
    expect(middleOf('A2', wheel)).toBeLessThan(95);
  });

  it('says what lies on what, and names what nobody said', () => {
    const svg = textOf(readMarkup(run.text('fitting-A1.svg')));
    expect(svg).toContain('Lies on 1 Floor.');
    expect(svg.replaceAll(/\s+/g, ' ')).toContain('the set does not');
  });

  it('says where its plan is only the drawing, because nobody placed the pieces', () => {
    const { facts } = run;
    const [one] = facts.orders;
    const saysSo = (of: OrderFacts): boolean => {
      const guide = fittingGuide(of, facts.lengths);
      const plan = fittingPlan(of, guide, 200);
      const words = 'The plan shows the pieces as the pattern is drawn, not where they lie';
      const [paper] = JSON.stringify(fittingSheet(of, guide, plan, facts))
        .split(words)
        .slice(1);
      const picture = textOf(readMarkup(fittingPicture(of, guide, plan)));
      expect(picture.includes(words)).toBe(paper !== undefined);
      return paper !== undefined;
    };
    expect(saysSo(one!)).toBe(false);
    const sills = [0, 1500].map((x, i) => ({
      ...piece(`sill-${i}`, { side: 'left' }, oblong(x, 0, x + 200, 900)),
      axis: null,
    }));
    expect(saysSo({ ...one!, set: { ...one!.set, pieces: sills } })).toBe(true);
  });
});

describe('cost and yield', () => {
  const rows = (): string[][] => tableRows(run.text('cost.html'));

  it('says what each roll gives, density of the usable and yield of the full width', () => {
    const { lays } = run.record;
    // Carpet, board and rubber.
    expect(lays).toHaveLength(3);
    for (const { material, length, density, rollWidth, usableWidth, rollLength } of lays) {
      const title = run.record.materials.find(({ name }) => name === material)!.title;
      const [, used, left, ofUsable, ofFull] = rows().find(([what]) => what === title)!;
      expect(1000 * Number.parseFloat(used!)).toBeGreaterThanOrEqual(length - 1e-6);
      expect(ofUsable).toBe(`${(100 * density).toFixed(1)} %`);
      expect(ofFull).toBe(`${((100 * density * usableWidth) / rollWidth).toFixed(1)} %`);
      if (rollLength === null) expect(left).toBe('length not said');
      else expect(left).toBe(`${Math.floor(rollLength - length)} mm`);
    }
  });

  it('adds up to the smallest unit: the orders to the whole, the lines to each', () => {
    const cents = (text: string): number => Math.round(1000 * Number.parseFloat(text));
    const lines = rows().filter(([, , price]) => / (a metre|an hour)$/.test(price ?? ''));
    const whole = lines
      .filter(([, , , amount]) => amount!.endsWith('EUR'))
      .reduce((sum, row) => sum + cents(row[3]!), 0);
    const totals = rows()
      .filter((row) => row[0] === 'Order' && row.length === 3)
      .map((row) => row[2]!);
    expect(totals).toHaveLength(2);
    const inEuro = totals.map((text) => cents(/([\d.]+) EUR/.exec(text)![1]!));
    expect(inEuro.reduce((a, b) => a + b, 0)).toBe(whole);
    const all = rows()
      .find(([what]) => what === 'All orders')!
      .at(-1)!;
    expect(cents(/([\d.]+) EUR/.exec(all)![1]!)).toBe(whole);
    expect(all).toMatch(/ \+ \d+ kr$/);
  });

  it('charges a length as it is printed', () => {
    const carpet = rows().find(
      ([what, , price]) => what === 'carpet for tests' && price === '24.50 EUR a metre',
    )!;
    const exact = Math.round(100 * Number.parseFloat(carpet[1]!)) * 2450;
    expect(Math.round(100 * Number.parseFloat(carpet[3]!))).toBe(Math.floor((exact + 50) / 100));
  });

  it('puts nothing without a price into a sum, and says so', () => {
    const text = textOf(readMarkup(run.text('cost.html')));
    expect(text).toContain('In no sum, since no price is given in its file: rubber for tests.');
  });
});

describe('papers with inches', () => {
  it('say mm first and inches beside them', async () => {
    const inches = await writtenRun(
      replaced(wren, runFile, 'effort: 2', 'effort: 2\ninches: true'),
    );
    const sheet = textOf(readMarkup(inches.text('sheet.html')));
    // 1500 / 25.4 = 59.06; 9 m = 354.33 in: of a roll that has so much, whole inches down, 29 ft 6 in.
    expect(sheet).toContain('1500 mm (59.06 in) wide');
    expect(sheet).toContain('9.00 m (29 ft 6 in)');
    expect(csvRows(inches.text('parts.csv')).flat().join(' ')).not.toContain(' in)');
    expect(inches.text('sewing-A1.html')).toContain('1100 mm (43.31 in)');
  });
});

describe('the papers of a run', () => {
  it.skipIf(poppler.missing)(`have no type under 8 points${poppler.note}`, () => {
    const papers = [...run.files].filter(([name]) => name.endsWith('.pdf'));
    // Run sheet, cost and labels, and of each order sewing, fitting and packing.
    expect(papers).toHaveLength(3 + 3 * run.record.orders.length);
    for (const [name, bytes] of papers) {
      // A line of both faces is 1.164 times its size from its lowest to its highest (their own tables).
      const sizes = wordsOf(bytes).words.map(
        ({ top, bottom }) => ((bottom - top) / 1.164) * (72 / 25.4),
      );
      expect([name, Math.min(...sizes) > 7.98]).toEqual([name, true]);
    }
  });

  it('are the same bytes again, from a copy of its inputs elsewhere', async () => {
    const [first, again] = [await writtenRun(), await writtenRun()];
    const isPaper = (name: string): boolean => /\.(html|pdf|csv)$/.test(name);
    expect([...first.files.keys()].filter(isPaper).length).toBeGreaterThan(10);
    expect([...again.files.keys()]).toEqual([...first.files.keys()]);
    for (const [name, bytes] of first.files)
      expect([name, again.files.get(name)]).toEqual([name, bytes]);
  });

  it('hold up whatever names are given', async () => {
    const hostile = JSON.stringify(`=1+1 <b>&amp;"x', 三角形 🚐`);
    let files = replaced(wren, runFile, 'Wren, three sets', hostile);
    files = replaced(files, runFile, 'binding: black', `binding: ${hostile}`);
    files = replaced(files, setFile, 'Wren van, cab', hostile);
    files = replaced(
      files,
      setFile,
      'covered: the seat base',
      `covered: ${hostile}, tucked: ${hostile}`,
    );
    files = replaced(files, 'shared/bindings/tape.yaml', 'title: tape', `title: ${hostile}`);
    const written = await writtenRun(files);
    for (const name of written.files.keys()) {
      if (!/\.(html|svg)$/.test(name)) continue;
      const markup = written.text(name);
      const bare = markup.replace(/<style>.*?<\/style>/s, '');
      const tags = elementsIn(readMarkup(bare)).map((element) => element.name);
      expect(tags.filter((tag) => tag === 'b' || tag === 'script')).toEqual([]);
    }
    const cells = csvRows(written.text('binding.csv'));
    expect(cells[0]![4]!.startsWith("'=1+1")).toBe(true);
  });
});
