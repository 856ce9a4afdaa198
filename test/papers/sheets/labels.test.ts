import bwipjs from 'bwip-js/node';
import * as fc from 'fast-check';
import jsqr from 'jsqr';
import { beforeAll, describe, expect, it } from 'vitest';
import type { PartLabel } from '../../../src/papers/sheets/part-label.ts';
import { labelsPdf } from '../../../src/papers/sheets/labels.ts';
import { qrModules } from '../../../src/papers/sheets/qr-code.ts';
import {
  defaultLabelStock,
  labelStockSchema,
  readLabelStock,
} from '../../../src/pattern/shop/label-stock.ts';
import { cellOf, fieldOf, saidOnLabel } from '../label-fields.ts';
import { codeReader, codesIn, pagesOf, poppler, wordsOf } from '../pdf-tools.ts';
import type { WrittenRun } from '../wren-papers.ts';
import { csvRows, writtenRun } from '../wren-papers.ts';
import { tries } from '../../support/thorough.ts';

const small = readLabelStock('shared', 'a4-21', {});
/** The smallest labels that are allowed. */
const tiny = {
  ...small,
  columns: 4,
  rows: 8,
  label: { width: 45, height: 30 },
};

/** The reader, however the loader hands over a module of the older kind. */
const readCode = ('default' in jsqr ? jsqr.default : jsqr) as typeof jsqr.default;

const svg =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 10"><rect width="20" height="10" fill="#dddddd"/></svg>';

function label(n: number, more: Partial<PartLabel> = {}): PartLabel {
  return {
    label: `mat-left.${n}.A1`,
    name: 'mat-left',
    side: 'left',
    hand: 'RHD',
    order: 'A1',
    set: n,
    title: 'Wren van',
    steps: [{ verb: 'Bind', words: '812 mm in black' }],
    svg,
    ...more,
  };
}

describe('the code on a label', () => {
  it('is read by another reader as the label, whatever the label', () => {
    const name = fc.stringMatching(
      /^[a-z0-9]{1,12}(-[a-z0-9]{1,12}){0,4}\.[1-9][0-9]{0,2}\.[A-Za-z0-9-]{1,12}$/,
    );
    fc.assert(
      fc.property(name, (text) => {
        const { pixs, pixx } = qrModules(text);
        // Four dots a module and a quiet zone of four modules, as ISO/IEC 18004 asks.
        const size = 4 * (pixx + 8);
        const picture = new Uint8ClampedArray(4 * size * size).fill(255);
        for (let y = 0; y < 4 * pixx; y++) {
          for (let x = 0; x < 4 * pixx; x++) {
            if (pixs[Math.floor(y / 4) * pixx + Math.floor(x / 4)] === 0) continue;
            picture.fill(0, 4 * ((y + 16) * size + x + 16), 4 * ((y + 16) * size + x + 16) + 3);
          }
        }
        expect(readCode(picture, size, size)?.data).toBe(text);
      }),
      { numRuns: tries(20, 30) },
    );
  });
});

it('a code is one that the library makes with one of its masks, whatever the label', () => {
  const name = fc.stringMatching(/^[a-z]{1,20}-[a-z]{1,30}\.[1-9][0-9]?\.[A-Za-z0-9-]{1,20}$/);
  fc.assert(
    fc.property(name, (text) => {
      const { pixs } = qrModules(text);
      const made = Array.from({ length: 8 }, (_, i) => {
        const [code] = bwipjs.raw('qrcode', text, `eclevel=M mask=${i + 1}`) as unknown as [
          { pixs: number[] },
        ];
        return code.pixs.map((dark) => (dark === 0 ? 0 : 1)).join('');
      });
      expect(made).toContain(pixs.join(''));
    }),
    { numRuns: tries(10, 30) },
  );
});

describe.skipIf(poppler.missing)(`sheets of labels${poppler.note}`, () => {
  it.each([
    ['ten on A4', defaultLabelStock],
    ['twenty-one on A4', small],
  ])('have each label in its place, %s', async (_, stock) => {
    const count = stock.columns * stock.rows + 3;
    const labels = Array.from({ length: count }, (_one, i) => label(i + 1));
    const { words, size } = wordsOf(await labelsPdf(labels, stock, 'Labels'));
    expect(size.width).toBeCloseTo(stock.sheet.width, 1);
    expect(size.height).toBeCloseTo(stock.sheet.height, 1);
    const feet = words.filter(({ text }) => text.startsWith('mat-left.'));
    expect(feet.map(({ text }) => text)).toEqual(labels.map((one) => one.label));
    for (const [i, word] of feet.entries()) {
      expect(cellOf(word, stock)).toBe(i % (stock.columns * stock.rows));
      expect(word.page).toBe(1 + Math.floor(i / (stock.columns * stock.rows)));
    }
    expect(words.filter((word) => cellOf(word, stock) === -1)).toEqual([]);
  });

  it('break what is too long for its field, then cut it with a mark, and keep to their label', async () => {
    const labels = [
      label(1, { name: 'a-name-that-is-a-little-longer-than-others-left' }),
      label(2, { name: 'n'.repeat(200), title: 'W'.repeat(300), order: 'O'.repeat(90) }),
      label(3, { name: '三角形'.repeat(60), title: 'مرحبا '.repeat(40) }),
      label(4, { name: `<b>&amp;"'` }),
    ];
    for (const stock of [defaultLabelStock, small]) {
      const pdf = await labelsPdf(labels, stock, 'Labels');
      const { words } = wordsOf(pdf);
      expect(words.filter((word) => cellOf(word, stock) === -1)).toEqual([]);
      const on = (n: number): string[] =>
        words.filter((word) => cellOf(word, stock) === n).map(({ text }) => text);
      expect(on(0).join('')).toMatch(/^a-name-that-is-a-little-longer-than-others-left/);
      const marked = on(1).filter((text) => text.endsWith('…'));
      // A small label has no room for all of the name.
      expect(marked.length).toBeGreaterThanOrEqual(stock === small ? 1 : 0);
      expect(on(1).join('')).toMatch(stock === small ? /^n+…/ : /^n{200}LEFT/);
      expect(on(3)).toContain(`<b>&amp;"'`);
    }
  });

  it('say which part of its order each is, and never cut that or the order before the name', async () => {
    const stock = tiny;
    const long = 'longest-order-that-a-run-file-may-have-1';
    const words = { cloth: 'loop-pile carpet, rubber backed', colour: 'claret', lines: [] };
    const place = { number: 105, of: 124 };
    const name = 'a-name-of-a-part-that-is-rather-long-left';
    const labels = [
      label(3, { words, place }),
      label(3, { words, place, name, order: long }),
      label(3, { place, name, order: 'A1', shape: [['centre console: long', 'console long']] }),
    ];
    const { words: printed } = wordsOf(await labelsPdf(labels, stock, 'Labels'));
    expect(printed.filter((word) => cellOf(word, stock) === -1)).toEqual([]);
    const on = (n: number): string =>
      printed
        .filter((word) => cellOf(word, stock) === n)
        .map(({ text }) => text)
        .join(' ');
    expect(on(0)).toContain('order A1, set 3, part 105 of 124');
    expect(on(0)).toContain('LEFT, RHD');
    for (const said of ['mat-left', 'claret']) expect(on(0)).toContain(said);
    expect(on(1)).toMatch(/^a-name-of-…/);
    // Six lines have no room for all of so long an order.
    expect(on(1)).toContain('105 of 124, set 3, longest-');
    expect(on(2)).toContain('105 of 124');
    // No word is cut in half: a mark stands behind a whole one.
    const whole = [
      name,
      long,
      words.cloth,
      words.colour,
      'centre console: long',
      'console long',
    ].flatMap((text) => text.split(/[ ,]+|(?<=-)/));
    for (const { text } of printed.filter((word) => word.text.endsWith('…'))) {
      expect(whole).toContain(
        text
          .slice(0, -1)
          .split(/(?<=-)/)
          .at(-1),
      );
    }
  });

  it('say how much is left out where not all steps have room', async () => {
    const steps = Array.from({ length: 30 }, (_, i) => ({
      verb: 'Sew',
      words: `seam-${i} to toe-board`,
    }));
    const [page] = pagesOf(await labelsPdf([label(1, { steps })], small, 'Labels'));
    expect(page).toContain('more: sewing sheet');
    expect(page).toMatch(/seam-0\b/);
    expect(page).not.toContain('seam-29');
    // No step is cut off within: its second line would not be seen to be missing.
    const long = [1, 2, 3].map((n) => ({
      verb: 'Sew',
      words: `${n} to a part of a long name end-${n}`,
    }));
    const [two] = pagesOf(await labelsPdf([label(1, { steps: long })], small, 'Labels'));
    expect(two!.match(/Sew: \d/g)).toHaveLength(two!.match(/end-\d/g)!.length);
  });

  it('say colour, material, edge, thread and people, and give up what is least important first', async () => {
    const words = {
      cloth: 'loop-pile carpet, rubber backed',
      colour: 'claret',
      lines: ['edge black, thread dark red', 'due 2026-12-04, for Hallam & Daughter'],
    };
    const steps = (count: number): PartLabel['steps'] =>
      Array.from({ length: count }, (_, i) => ({ verb: 'Sew', words: `to part-${i}` }));
    const labels = [1, 3, 12].map((count) => label(count, { words, steps: steps(count) }));
    for (const stock of [defaultLabelStock, small]) {
      const { words: printed } = wordsOf(await labelsPdf(labels, stock, 'Labels'));
      expect(printed.filter((word) => cellOf(word, stock) === -1)).toEqual([]);
      const on = (n: number): string =>
        printed
          .filter((word) => cellOf(word, stock) === n)
          .map(({ text }) => text)
          .join(' ');
      for (const n of [0, 1, 2]) {
        // Order, name and colour are never cut, nor what is done first.
        for (const said of ['mat-left', 'order A1', 'claret', 'part-0'])
          expect(on(n)).toContain(said);
        expect(on(n)).not.toMatch(/(?:claret|A1|mat-left)…/);
      }
      expect(on(1)).toContain('part-2');
      expect(on(2)).toContain('more: sewing sheet');
      expect(on(2)).not.toContain('Hallam');
      if (stock === small) continue;
      expect(on(0)).toContain('claret, loop-pile carpet, rubber backed');
      expect(on(0)).toContain('thread dark red');
      expect(on(0)).toContain('for Hallam');
    }
  });

  it('say the options that shape a part on lines of their own, before what may be left out', async () => {
    const words = {
      cloth: 'loop-pile carpet, rubber backed',
      colour: 'claret',
      lines: ['edge black, thread dark red', 'due 2026-12-04, for Hallam & Daughter'],
    };
    const steps = Array.from({ length: 12 }, (_, i) => ({ verb: 'Sew', words: `to part-${i}` }));
    const one = [['late body', 'body late']] as const;
    const three = [
      ['no rear-seat heater', 'no heater'],
      ['centre console: long', 'console long'],
      ['body: early', 'body early'],
    ] as const;
    const many = Array.from({ length: 30 }, (_, i) => [`option number ${i}`, `o${i}`] as const);
    const labels = [one, three, many].map((shape, i) =>
      label(i + 1, { shape, words, steps, mark: 'RECUT' }),
    );
    for (const stock of [defaultLabelStock, small]) {
      const { words: printed } = wordsOf(await labelsPdf(labels, stock, 'Labels'));
      expect(printed.filter((word) => cellOf(word, stock) === -1)).toEqual([]);
      const on = (n: number): string => saidOnLabel(printed, `mat-left.${n}.A1`, stock);
      expect(on(1)).toContain('late body order A1');
      // Side by side with the code the words of three options have no room, and their names have.
      expect(on(2)).toContain('no heater; console long; body early order A1');
      expect(on(3)).toContain('o0; o1; o2;');
      expect(on(3)).toContain(stock === small ? '… order A1' : 'o29 order A1');
      for (const n of [1, 2, 3]) expect(on(n)).toContain('claret');
    }
  });

  it('have no line over another, whatever is to be said', async () => {
    const words = { cloth: 'wool', colour: 'moss', lines: ['edge sand', 'due 2026-12-04'] };
    const shapes = [0, 2, 20].map((count) =>
      Array.from({ length: count }, (_, i) => [`option number ${i}`, `number ${i}`] as const),
    );
    const labels = Array.from({ length: 8 }, (_, i) =>
      label(i, {
        words: i % 2 === 0 ? words : { ...words, colour: 'a-colour-with-quite-a-long-name-of-40' },
        ...(i > 3 ? { mark: 'RECUT' } : {}),
        ...(i % 3 === 0 ? {} : { shape: shapes[i % 3]! }),
        steps: Array.from({ length: i }, (_one, k) => ({ verb: 'Sew', words: `to part-${k}` })),
      }),
    );
    const { words: printed } = wordsOf(await labelsPdf(labels, small, 'Labels'));
    for (const [n] of labels.entries()) {
      const own = printed.filter((word) => cellOf(word, small) === n);
      const middles = own.map(({ top, bottom }) => (top + bottom) / 2).toSorted((a, b) => a - b);
      // Words of one line have one middle; lines of 8 points are 3.7 mm apart.
      const gaps = middles.slice(1).map((at, i) => at - middles[i]!);
      expect(gaps.filter((gap) => gap > 0.3 && gap < 2.5)).toEqual([]);
    }
  });

  it('bear a mark that is read first', async () => {
    const { words } = wordsOf(
      await labelsPdf([label(1, { mark: 'RECUT' })], defaultLabelStock, 'x'),
    );
    const [first] = words.toSorted((a, b) => a.top - b.top);
    expect(first!.text).toBe('RECUT');
  });

  it('are the same bytes again', async () => {
    expect(await labelsPdf([label(1)], small, 'x')).toEqual(
      await labelsPdf([label(1)], small, 'x'),
    );
  });
});

describe('the labels of a run', () => {
  let run: WrittenRun;
  beforeAll(async () => {
    run = await writtenRun();
  });

  it.skipIf(codeReader.missing)(
    `are read by another reader from the printed sheets, each part once${codeReader.note}`,
    () => {
      // In cutting order, as parts.csv numbers them.
      const inOrder = csvRows(run.text('parts.csv')).map(([name]) => name!);
      const { columns, rows } = defaultLabelStock;
      const fields = inOrder.map((_, i) => ({
        page: 1 + Math.floor(i / (columns * rows)),
        ...fieldOf(i % (columns * rows), defaultLabelStock),
      }));
      expect(codesIn(run.files.get('labels.pdf')!, fields)).toEqual(inOrder);
      expect(inOrder.toSorted()).toEqual(run.record.parts.map((part) => part.label).sort());
    },
  );

  it.skipIf(poppler.missing)(`say side, hand, order and what happens next${poppler.note}`, () => {
    const { words } = wordsOf(run.files.get('labels.pdf')!);
    const said = saidOnLabel(words, 'rest-left.1.A2', defaultLabelStock);
    expect(said).toContain('rest-left');
    expect(said).toContain('LEFT, LHD');
    expect(said).toContain('order A2, set 1');
    expect(said).toContain('carpet for tests');
    expect(said).toContain('Wren van, cab');
    // 200 x 140 with a corner of 40 x 40 off: 160 + 100 + 200 + 140 + sqrt(2) 40 = 656.57 mm.
    expect(said).toContain('Bind: 657 mm');
    expect(said).toContain('Board: fix to rest-board-left');
  });

  it.skipIf(poppler.missing)(
    `count the parts of each order, of all its sets${poppler.note}`,
    () => {
      const { words } = wordsOf(run.files.get('labels.pdf')!);
      for (const { order } of run.record.orders) {
        const own = run.record.parts.filter((part) => part.order === order);
        const numbers = own.map(({ label: one }) => {
          const said = saidOnLabel(words, one, defaultLabelStock);
          const [, number, of] = /part (\d+) of (\d+) of this order/.exec(said)!;
          expect(Number(of)).toBe(own.length);
          return Number(number);
        });
        expect(numbers.toSorted((a, b) => a - b)).toEqual(own.map((_, i) => i + 1));
      }
    },
  );
});

describe('a sheet of labels as data', () => {
  it('must hold its labels', () => {
    expect(labelStockSchema.safeParse(small).success).toBe(true);
    for (const wrong of [
      { columns: 4 },
      { rows: 8 },
      { left: 20 },
      { label: { width: 20, height: 38 } },
      { rows: 0 },
    ]) {
      expect(labelStockSchema.safeParse({ ...small, ...wrong }).success).toBe(false);
    }
  });
});
