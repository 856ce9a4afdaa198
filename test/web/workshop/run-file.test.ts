import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import type { RunContent } from '../../../src/run/run-file.ts';
import { runSchema } from '../../../src/run/run-file.ts';
import { openRunFile, saveRunFile, versionOf } from '../../../src/web/workshop/run-file.ts';
import type { Workshop } from '../../../src/web/workshop/workshop.ts';
import { outside } from '../../support/outside.ts';

let shop: Workshop;
let file = '';

beforeEach(() => {
  const root = mkdtempSync(join(tmpdir(), 'run-file-'));
  shop = { patterns: join(root, 'patterns'), shared: join(root, 'shared'), out: join(root, 'out') };
  mkdirSync(shop.patterns);
  file = join(shop.patterns, 'week.yaml');
});

afterEach(() => rmSync(join(shop.patterns, '..'), { recursive: true }));

/** Written by a person who has his own ways. */
const handwritten = `# Monday's vans
title: "Wren, three sets"   # as on the board
cutter: long-bay

# told by the customer
orders:
  - order: A1
    set: wren # the new one
    hand: RHD
    quantity: 2
  - { order: A2, set: wren, hand: LHD, heelPads: both }

effort: 20
rolls:
  loop:
    length: 9000
    defects:
      - - [100, 0]
        - [200, 0]
        - [200, 50]

# the end
`;

function contentOf(more: object = {}): RunContent {
  const orders = [{ order: 'A1', set: 'wren', hand: 'RHD' }];
  return runSchema.parse({ title: 'a week', cutter: 'long-bay', orders, ...more });
}

function ruleOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error.findings[0]!.rule;
    throw error;
  }
  return 'taken';
}

/** The lines of a text, without blanks before a comment and within brackets: all that may move. */
function lines(text: string): string[] {
  return text.split('\n').map((line) => line.replace(/ +#/, ' #').replace(/(?<=\[) | (?=\])/g, ''));
}

describe('a run file that is saved', () => {
  it('as it was is as it was, comments and looks too', () => {
    writeFileSync(file, handwritten);
    const { content, version } = openRunFile(shop, 'week');
    saveRunFile(shop, 'week', content, version);
    expect(lines(readFileSync(file, 'utf8'))).toEqual(lines(handwritten));
  });

  it('with one value changed differs in that line alone', () => {
    writeFileSync(file, handwritten);
    const { content, version } = openRunFile(shop, 'week');
    const saved = saveRunFile(shop, 'week', { ...content, effort: 30 }, version);
    const expected = handwritten.replace('effort: 20', 'effort: 30');
    expect(lines(readFileSync(file, 'utf8'))).toEqual(lines(expected));
    expect(openRunFile(shop, 'week')).toEqual({
      name: 'week',
      content: { ...content, effort: 30 },
      ordersFile: null,
      version: saved,
    });
  });

  it('loses a key that says its default, and gets one that does not', () => {
    writeFileSync(file, handwritten);
    const { content, version } = openRunFile(shop, 'week');
    const { effort } = contentOf();
    saveRunFile(shop, 'week', { ...content, effort, seed: 4 }, version);
    const text = readFileSync(file, 'utf8');
    expect(text).not.toContain('effort');
    expect(text).toMatch(/^seed: 4$/m);
    expect(text).toContain('# told by the customer\norders:\n  - order: A1\n');
    expect(openRunFile(shop, 'week').content).toEqual({ ...content, effort, seed: 4 });
  });

  it('with what a search laid keeps the rest of it', () => {
    writeFileSync(file, handwritten);
    const { content, version } = openRunFile(shop, 'week');
    const roll = [content.rolls['loop']!].flat()[0]!;
    const laid = [{ part: 'floor.1.A1', at: [1.5, 20] as [number, number], rotation: 90 }];
    const now = { ...content, rolls: { loop: { ...roll, laid } } };
    saveRunFile(shop, 'week', now, version);
    const text = readFileSync(file, 'utf8');
    expect(text).toContain('{ part: floor.1.A1, at: [ 1.5, 20 ], rotation: 90 }');
    expect(lines(text).slice(0, 13)).toEqual(lines(handwritten).slice(0, 13));
    expect(openRunFile(shop, 'week').content).toEqual(now);
  });

  it('anew is written under a name that is free, and read again', () => {
    const version = saveRunFile(shop, 'week', contentOf(), null);
    expect(version).toBe(versionOf(file));
    expect(openRunFile(shop, 'week')).toEqual({
      name: 'week',
      content: contentOf(),
      ordersFile: null,
      version,
    });
    expect(readdirSync(shop.patterns)).toEqual(['week.yaml']);
  });
});

describe('a run file whose orders are kept in a CSV', () => {
  const inCsv = handwritten.replace(/^orders:[^]*?(?=^effort)/m, 'orders: week.csv # by Ann\n\n');
  const table = 'order,set,hand,quantity\nA1,wren,RHD,2\nA2,wren,LHD,\n';
  const csv = (): string => join(shop.patterns, 'week.csv');
  beforeEach(() => {
    writeFileSync(file, inCsv);
    writeFileSync(csv(), table);
  });

  it('says the orders and where they are kept', () => {
    const { content, ordersFile } = openRunFile(shop, 'week');
    expect(ordersFile).toBe('week.csv');
    expect(content.orders.map(({ order, quantity }) => [order, quantity])).toEqual([
      ['A1', 2],
      ['A2', 1],
    ]);
  });

  it('takes what is laid on its rolls, and leaves the orders where they are', () => {
    const { content, version } = openRunFile(shop, 'week');
    const loop = { ...[content.rolls['loop']!].flat()[0]!, length: 8000 };
    const saved = saveRunFile(shop, 'week', { ...content, effort: 30, rolls: { loop } }, version);
    const expected = inCsv.replace('effort: 20', 'effort: 30').replace('9000', '8000');
    expect(lines(readFileSync(file, 'utf8'))).toEqual(lines(expected));
    expect(readFileSync(csv(), 'utf8')).toBe(table);
    expect(openRunFile(shop, 'week').version).toBe(saved);
  });

  it('refuses other orders in plain words, with nothing written', () => {
    const { content, version } = openRunFile(shop, 'week');
    const orders = content.orders.slice(1);
    const save = (): string =>
      saveRunFile(shop, 'week', { ...content, effort: 30, orders }, version);
    expect(ruleOf(save)).toBe('orders-in-csv');
    expect(save).toThrow(/the orders of this run are kept in week\.csv.*Change them in week\.csv/);
    expect([readFileSync(file, 'utf8'), readFileSync(csv(), 'utf8')]).toEqual([inCsv, table]);
  });

  it('is another run once the CSV has been changed', () => {
    const { content, version } = openRunFile(shop, 'week');
    writeFileSync(csv(), table.replace('RHD', 'LHD'));
    const save = (): string => saveRunFile(shop, 'week', { ...content, effort: 30 }, version);
    expect(ruleOf(save)).toBe('changed-since');
    expect(readFileSync(file, 'utf8')).toBe(inCsv);
  });

  it('refuses a CSV that lies elsewhere by a link', () => {
    rmSync(csv());
    const elsewhere = join(shop.patterns, '../elsewhere.csv');
    writeFileSync(elsewhere, table);
    symlinkSync(elsewhere, csv());
    expect(ruleOf(() => openRunFile(shop, 'week'))).toBe('name');
  });
});

describe('what is refused, with nothing written', () => {
  it('a run that has been changed since', () => {
    writeFileSync(file, handwritten);
    const { content, version } = openRunFile(shop, 'week');
    const changed = handwritten.replace('effort: 20', 'effort: 21');
    writeFileSync(file, changed);
    const save = (): string => saveRunFile(shop, 'week', { ...content, effort: 30 }, version);
    expect(ruleOf(save)).toBe('changed-since');
    expect(readFileSync(file, 'utf8')).toBe(changed);
    expect(openRunFile(shop, 'week').version).not.toBe(version);
  });

  it('a run that is gone by now', () => {
    expect(ruleOf(() => saveRunFile(shop, 'week', contentOf(), '0123456789abcdef'))).toBe(
      'changed-since',
    );
    expect(readdirSync(shop.patterns)).toEqual([]);
  });

  it('a new run under a name that is taken', () => {
    writeFileSync(file, handwritten);
    expect(() => saveRunFile(shop, 'week', contentOf(), null)).toThrow(
      /that name is there already/,
    );
    expect(readFileSync(file, 'utf8')).toBe(handwritten);
  });

  const order = { order: 'A1', set: 'wren', hand: 'RHD' };
  it.each<[string, object]>([
    ['no order', { orders: [] }],
    ['a hand that is none', { orders: [{ ...order, hand: 'left' }] }],
    ['more sets than there may be', { orders: [{ ...order, quantity: 501 }] }],
    ['a word for a number', { effort: 'much' }],
    ['no title', { title: '' }],
    ['a key that means nothing', { colour: 'red' }],
    ['a place that is no number', { rolls: { loop: { pins: [{ part: 'a', at: [NaN, 0] }] } } }],
    ['two orders of one name', { orders: [contentOf().orders[0], contentOf().orders[0]] }],
    ['two rolls of one name', { rolls: { loop: [{ name: 'x' }, { name: 'x' }] } }],
    ['a roll whose name is the number of another', { rolls: { loop: [{ name: '2' }, {}] } }],
    ['a set elsewhere', { orders: [{ ...order, set: '../secret' }] }],
    ['a set that is all folders', { orders: [{ ...order, set: '..' }] }],
    ['a cutter elsewhere', { cutter: '/etc/x' }],
    ['labels elsewhere', { labels: '..\\x' }],
  ])('a content with %s', (_, wrong) => {
    for (const before of [null, handwritten]) {
      if (before !== null) writeFileSync(file, before);
      const given = { ...contentOf(), ...wrong } as RunContent;
      // As it comes from the page: with every default where it fits at all.
      const content = runSchema.safeParse(given).data ?? given;
      expect(ruleOf(() => saveRunFile(shop, 'week', content, versionOf(file)))).toMatch(
        /schema|same-order|same-roll|name/,
      );
      expect(existsSync(file) ? readFileSync(file, 'utf8') : null).toBe(before);
    }
  });
});

const asNobody = outside(
  'root or anybody for whom the rights of files hold',
  process.seteuid !== undefined,
);

/** Does something as one for whom the rights of files hold, as they do not for root. */
function unprivileged<T>(work: () => T): T {
  const user = process.geteuid!();
  if (user === 0) process.seteuid!(65_534);
  try {
    return work();
  } finally {
    process.seteuid!(user);
  }
}

it.skipIf(asNobody.missing)(`a folder that is read-only is told in words${asNobody.note}`, () => {
  writeFileSync(file, handwritten);
  chmodSync(join(shop.patterns, '..'), 0o755);
  chmodSync(shop.patterns, 0o555);
  const { content, version } = openRunFile(shop, 'week');
  const save = (name: string, before: string | null) => () =>
    unprivileged(() => saveRunFile(shop, name, { ...content, effort: 30 }, before));
  expect(save('week', version)).toThrow(/no permission to write here/);
  expect(save('other', null)).toThrow(Refusal);
  expect(readFileSync(file, 'utf8')).toBe(handwritten);
  expect(readdirSync(shop.patterns)).toEqual(['week.yaml']);
  chmodSync(shop.patterns, 0o755);
  save('week', version);
  expect(saveRunFile(shop, 'week', { ...content, effort: 30 }, version)).not.toBe(version);
});

const id = fc.stringMatching(/^[A-Za-z0-9]{1,6}(-[A-Za-z0-9]{1,3})?$/);
const text = fc.oneof(
  fc.string({ minLength: 1, unit: 'grapheme' }),
  fc.constantFrom('yes', 'null', '~', '0x1f', '1e3', '- a', 'a: b', '#', '"', "'", ' a ', 'a\nb'),
);
const plainName = text.filter((one) => !/[/\\\0]|^\.+$/.test(one));
const figure = fc.oneof(
  fc.double({ min: -1e5, max: 1e5, noNaN: true }),
  fc.integer({ min: -1e6, max: 1e6 }).map((n) => n / 1000),
);
const pin = fc.record({
  part: text,
  at: fc.tuple(figure, figure),
  rotation: fc.constantFrom(0, 90, 359.5),
});
const corners = fc
  .tuple(fc.integer({ min: 1, max: 900 }), fc.integer({ min: 1, max: 900 }))
  .map(([w, h]): [number, number][] => [
    [0, 0],
    [w, 0],
    [w, h + 0.5],
  ]);
const rollOf = (name: fc.Arbitrary<string>) =>
  fc.record(
    {
      width: fc.integer({ min: 1, max: 6000 }),
      length: fc.double({ min: 0.001, max: 1e6, noNaN: true }),
      dyeLot: text,
      name,
      defects: fc.array(corners, { maxLength: 2 }),
      outline: corners,
      pins: fc.array(pin, { maxLength: 3 }),
      laid: fc.array(pin, { maxLength: 3 }),
    },
    { requiredKeys: [] },
  );
const someRolls = fc
  .uniqueArray(fc.stringMatching(/^[a-z]{3,6}$/), { minLength: 1, maxLength: 3 })
  .chain((names) =>
    fc.tuple(...names.map((name) => rollOf(fc.constant(name)).map((roll) => ({ ...roll, name })))),
  );
const anyContent: fc.Arbitrary<RunContent> = fc
  .record(
    {
      title: text,
      cutter: plainName,
      seed: fc.nat(),
      effort: fc.integer({ min: 1, max: 1e9 }),
      labels: plainName,
      inches: fc.boolean(),
      orders: fc.uniqueArray(
        fc.record(
          {
            order: id,
            set: plainName,
            hand: fc.constantFrom('LHD', 'RHD'),
            quantity: fc.integer({ min: 1, max: 500 }),
            heelPads: fc.constantFrom('driver', 'both', 'none'),
            boards: fc.boolean(),
            binding: text,
          },
          { requiredKeys: ['order', 'set', 'hand'] },
        ),
        { minLength: 1, maxLength: 4, selector: ({ order }) => order.toLowerCase() },
      ),
      rolls: fc.dictionary(
        fc.oneof(
          id.map((name) => name.toLowerCase()),
          fc.constantFrom('null', 'true', '12', '1e3'),
        ),
        fc.oneof(rollOf(id), someRolls),
        { maxKeys: 3 },
      ),
    },
    { requiredKeys: ['title', 'cutter', 'orders'] },
  )
  .map((written) => runSchema.parse(written));

describe('whatever a run file says', () => {
  it('is read again as it was written, anew or over another', () => {
    fc.assert(
      fc.property(anyContent, anyContent, (one, other) => {
        rmSync(file, { force: true });
        const first = saveRunFile(shop, 'week', one, null);
        expect(openRunFile(shop, 'week')).toEqual({
          name: 'week',
          content: one,
          ordersFile: null,
          version: first,
        });
        const second = saveRunFile(shop, 'week', other, first);
        expect(openRunFile(shop, 'week')).toEqual({
          name: 'week',
          content: other,
          ordersFile: null,
          version: second,
        });
      }),
      { numRuns: 200 },
    );
  });
});
