import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { unparse } from 'papaparse';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { Refusal, wordFinding } from '../../src/base/findings.ts';
import type { Order } from '../../src/handing/order.ts';
import { orderSchema } from '../../src/handing/order.ts';
import { orderHeadings } from '../../src/run/orders-csv.ts';
import type { RunFile } from '../../src/run/run-file.ts';
import { readRun } from '../../src/run/run-file.ts';

let folder = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'orders-'));
});

afterEach(() => {
  rmSync(folder, { recursive: true });
});

function runOf(csv: string | Uint8Array): RunFile {
  writeFileSync(join(folder, 'week.csv'), csv);
  writeFileSync(join(folder, 'week.yaml'), 'title: a week\ncutter: long-bay\norders: week.csv\n');
  return readRun(join(folder, 'week.yaml'));
}

/** What is said of a CSV that cannot be read, a line each, without the folder. */
function refusalOf(csv: string | Uint8Array): string[] {
  try {
    runOf(csv);
  } catch (error) {
    if (error instanceof Refusal) {
      return error.findings.map((one) => wordFinding(one).replaceAll(join(folder, '/'), ''));
    }
    throw error;
  }
  return [];
}

describe('orders in a CSV', () => {
  it('are the same as in the run file, whoever has written the table', () => {
    fc.assert(
      fc.property(tables, ({ orders, headings, form }) => {
        const rows = orders.map((order) => headings.map((name) => cellOf(order, name)));
        const csv = unparse({ fields: headings, data: rows }, form);
        const inYaml = stringify({ title: 'a week', cutter: 'long-bay', orders });
        writeFileSync(join(folder, 'plain.yaml'), inYaml);
        const plain = readRun(join(folder, 'plain.yaml'));
        const mark = form.hasMark ? '\uFEFF' : '';
        expect(runOf(mark + csv).orders).toEqual(plain.orders);
      }),
    );
  });

  it('have a column for every key of an order', () => {
    const keys = orderHeadings(['lock']).map((name) => name.split('.')[0]!);
    expect(new Set(keys)).toEqual(new Set(Object.keys(orderSchema.shape)));
  });

  it('know the place of each of their values, also below cells of several lines', () => {
    const { placeOf, orders } = runOf(
      'hand;order;set;customerNote;alone\r\n\r\nRHD;1;wren;"two\r\nlines";floor step\r\n;;;;\r\nLHD;2;wren;;\r\n',
    );
    const file = join(folder, 'week.csv');
    expect(orders).toMatchObject([
      { order: '1', customerNote: 'two\r\nlines', alone: ['floor', 'step'] },
      { order: '2', hand: 'LHD' },
    ]);
    expect(placeOf(['orders', 0, 'alone', 1])).toEqual({ file, line: 4, heading: 'alone' });
    expect(placeOf(['orders', 1, 'order'])).toEqual({ file, line: 6, heading: 'order' });
    expect(placeOf(['orders', 1, 'carpet', 'colour'])).toEqual({ file, line: 6 });
    expect(placeOf(['cutter'])).toEqual({ file: join(folder, 'week.yaml'), line: 2, column: 1 });
  });

  it('read yes and no, and columns of blanks that a spreadsheet leaves behind', () => {
    const csv = `order,set,hand,boards,underlay,underlay.colour,options.lock,options.size,,\n1,wren,RHD,NO,yes,grey,no,long,,\n2,wren,RHD,,False,,,,,\n`;
    expect(runOf(csv).orders).toMatchObject([
      { boards: false, underlay: { colour: 'grey' }, options: { lock: false, size: 'long' } },
      { boards: true, underlay: false },
    ]);
    expect(runOf(csv).orders[1]).not.toHaveProperty('options');
  });

  it.each(wrongTables())('refuses %s and names the line', (_, csv, ...said) => {
    expect(refusalOf(csv)).toEqual(said.map((words) => expect.stringContaining(words)));
  });

  it('names all wrong lines at once, in their order', () => {
    const lines = refusalOf(
      'order,set,hand,quantity\n1,wren,RHD,none\n2,wren\n3,wren,RHD,1\n4,wren,left,1\n',
    );
    expect(lines.map((line) => line.slice(0, 'week.csv:2'.length))).toEqual([
      'week.csv:2',
      'week.csv:3',
      'week.csv:5',
    ]);
  });

  it('must lie beside the run file', () => {
    const file = join(folder, 'week.yaml');
    writeFileSync(file, 'title: a week\ncutter: long-bay\norders: ../week.csv\n');
    expect(() => readRun(file)).toThrow(/week\.yaml:3:1: "orders" does not fit: a file of orders/);
    writeFileSync(file, 'title: a week\ncutter: long-bay\norders: none.csv\n');
    expect(() => readRun(file)).toThrow(/none\.csv: there is no CSV of orders here/);
  });
});

/** What is wrong with a table, the table, and what every line of the refusal must say. */
function wrongTables(): [string, string | Uint8Array, ...string[]][] {
  const head = 'order,set,hand';
  const latin = Buffer.from(`${head},thread\n1,wren,RHD,black\n2,wren,RHD,gr\xfcn\n`, 'latin1');
  const wide = Buffer.from(`\uFEFF${head}\n1,wren,RHD\n`, 'utf16le');
  return [
    ['an empty file', '', 'week.csv: this file is empty.'],
    ['a file of blank lines', '\n  \n,,\n', 'week.csv: this file is empty.'],
    ['headings alone', `${head}\n`, 'week.csv: there is no order in this file.'],
    ['a table without headings', '\n1,wren,RHD\n', 'week.csv:2: the first line has no headings'],
    [
      'an unknown column',
      `${head},color\n1,wren,RHD,red\n`,
      'week.csv:1, column color: "color" is no column of orders. There are: order, set, hand, ',
    ],
    [
      'an option that is no name',
      `${head},options.__proto__\n1,wren,RHD,red\n`,
      'week.csv:1, column options.__proto__: "options.__proto__" is no column',
    ],
    [
      'a column that is there twice',
      `${head},set\n1,wren,RHD,wren\n`,
      'week.csv:1: the column "set" is there twice.',
    ],
    [
      'a column without a heading',
      `${head},\n1,wren,RHD,red\n`,
      'week.csv:1: column 4 has no heading.',
    ],
    ['a column too few', 'order,set\n1,wren\n', 'week.csv:1: there is no column "hand".'],
    [
      'too few cells',
      `${head}\n1,wren,RHD\n2,wren\n`,
      'week.csv:3: this line has 2 cells: too few for 3 columns.',
    ],
    [
      'too many cells',
      `${head}\n1,wren,RHD,red\n`,
      'week.csv:2: this line has 4 cells: too many for 3 columns.',
    ],
    ['a cell that must not be empty', `${head}\n1,wren,\n`, 'week.csv:2: "hand" is empty.'],
    [
      'a hand that is none',
      `${head}\n1,wren,left\n`,
      'week.csv:2, column hand: "hand" says "left" and is none of: RHD, LHD.',
    ],
    [
      'a quantity in words',
      `${head},quantity\n1,wren,RHD,two\n`,
      'week.csv:2, column quantity: "quantity" says "two", and that is no whole number.',
    ],
    [
      'a quantity of none',
      `${head},quantity\n1,wren,RHD,0\n`,
      'week.csv:2, column quantity: "quantity" says "0" and is too small: at least 1',
    ],
    [
      'a day with points',
      `${head},due\n1,wren,RHD,4.12.2026\n`,
      'week.csv:2, column due: "due" says "4.12.2026", and that is no day as it is written here. Write 2026-12-04;',
    ],
    [
      'a day with strokes, which may be two',
      `${head},due\n1,wren,RHD,04/12/2026\n`,
      'Write year-month-day, like 2026-12-04;',
    ],
    [
      'a day that never comes',
      `${head},due\n1,wren,RHD,2026-02-30\n`,
      'week.csv:2, column due: "due" says "2026-02-30" and does not fit',
    ],
    [
      'neither yes nor no',
      `${head},boards\n1,wren,RHD,perhaps\n`,
      'week.csv:2, column boards: "boards" says "perhaps", and that is neither yes nor no.',
    ],
    [
      'no underlay, and which',
      `${head},underlay,underlay.material\n1,wren,RHD,no,felt\n`,
      'week.csv:2, column underlay: "underlay" says no, and "underlay.material" says which.',
    ],
    [
      'the colour of edges said twice',
      `${head},binding,edge.colour\n1,wren,RHD,sand,black\n`,
      'week.csv:2, column edge.colour: ',
    ],
    [
      'names with commas between them',
      `${head},alone\n1,wren,RHD,"floor, step"\n`,
      'week.csv:2, column alone: "alone" says "floor, step" and does not fit: a name is one word',
    ],
    [
      'two orders of one name',
      `${head}\n1,wren,RHD\n1,wren,LHD\n`,
      'week.csv:3, column order: order "1" is there twice.',
    ],
    [
      'a quote that is never closed',
      `${head}\n1,wren,"RHD\n2,wren,RHD\n`,
      'week.csv:2: a quote is opened on this line and never closed.',
    ],
    [
      'a quote within a text, below a cell of two lines',
      `${head},thread\n1,wren,RHD,"a\nb"\n2,wren,RHD,bl"ue\n`,
      'week.csv:4: a quote stands in the middle of a text.',
    ],
    ['text that is not UTF-8', latin, 'week.csv:3: a letter here is not written in UTF-8.'],
    ['UTF-16', wide, 'week.csv: this file is written in UTF-16.'],
    ['tabs', 'order\tset\thand\n1\twren\tRHD\n', 'its columns are separated by tabs.'],
    [
      'commas and semicolons in the headings',
      'order;set,hand\n1;wren,RHD\n',
      'week.csv:1, column set,hand: "set,hand" is no column of orders.',
      'week.csv:1: there is no column "set".',
      'week.csv:1: there is no column "hand".',
    ],
  ];
}

/** What a cell of an order says, as a person would write it. */
function cellOf(order: WrittenOrder, heading: string): string {
  const [first = '', second] = heading.split('.');
  const value = order[first as keyof WrittenOrder];
  const inner =
    second === undefined
      ? value
      : typeof value === 'object' && !Array.isArray(value)
        ? (value as Record<string, unknown>)[second]
        : undefined;
  if (Array.isArray(inner)) return inner.join(' ');
  if (typeof inner === 'boolean') return inner ? 'yes' : 'no';
  return typeof inner === 'string' || typeof inner === 'number' ? String(inner) : '';
}

type WrittenOrder = Partial<Order> & Pick<Order, 'order' | 'set' | 'hand'>;

const name = fc.stringMatching(/^[a-z]([a-z0-9]{0,5}(-[a-z0-9]{1,4})?)$/);
const optionName = fc.stringMatching(/^[a-z][a-z0-9]{0,5}$/);
const words = fc
  .oneof(
    fc.string({ minLength: 1, maxLength: 40, unit: 'grapheme' }),
    fc.stringMatching(/^[a-z,;"\n' äß]{1,30}$/),
  )
  .map((text) =>
    text
      .trim()
      .replaceAll(/[\p{Cc}\uFEFF\uFFFD]/gu, (sign) => (sign === '\n' ? sign : ''))
      .trim(),
  )
  .filter((text) => text !== '');
const chosen = fc
  .record({ material: name, colour: name }, { noNullPrototype: true, requiredKeys: [] })
  .filter((one) => Object.keys(one).length > 0);

const written: fc.Arbitrary<WrittenOrder> = fc.record(
  {
    order: name,
    set: name,
    hand: fc.constantFrom('RHD' as const, 'LHD' as const),
    quantity: fc.integer({ min: 1, max: 500 }),
    heelPads: fc.constantFrom('driver' as const, 'both' as const, 'none' as const),
    boards: fc.boolean(),
    underlay: fc.oneof(fc.boolean(), chosen),
    carpet: chosen,
    pad: chosen,
    board: chosen,
    edge: fc.record({ finish: name, colour: words }, { noNullPrototype: true }),
    thread: words,
    alone: fc.array(name, { minLength: 1, maxLength: 3 }),
    without: fc.array(name, { minLength: 1, maxLength: 3 }),
    options: fc.dictionary(
      optionName,
      fc.oneof(fc.boolean(), name, fc.constantFrom('yes', 'No', 'TRUE', 'false')),
      { minKeys: 1, maxKeys: 3, noNullPrototype: true },
    ),
    customer: words,
    due: fc
      .date({ min: new Date('2000-01-01'), max: new Date('2099-12-31'), noInvalidDate: true })
      .map((day) => day.toISOString().slice(0, 10)),
    benchNote: words,
    customerNote: words,
  },
  { noNullPrototype: true, requiredKeys: ['order', 'set', 'hand'] },
);

/** Orders, the columns that hold them in any order, and how the table is written. */
const tables = fc
  .uniqueArray(written, {
    minLength: 1,
    maxLength: 6,
    selector: ({ order }) => order,
  })
  .chain((orders) => {
    const options = [...new Set(orders.flatMap((order) => Object.keys(order.options ?? {})))];
    const all = orderHeadings(options);
    return fc.record({
      orders: fc.constant(orders),
      headings: fc.shuffledSubarray(all, { minLength: all.length }),
      form: fc.record({
        delimiter: fc.constantFrom(',', ';'),
        newline: fc.constantFrom('\n', '\r\n'),
        quotes: fc.boolean(),
        hasMark: fc.boolean(),
      }),
    });
  });
