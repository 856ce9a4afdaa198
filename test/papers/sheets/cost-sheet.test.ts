import * as fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { paperHtml } from '../../../src/papers/documents/document-html.ts';
import type { RunFacts } from '../../../src/papers/facts/run-facts.ts';
import { costSheet } from '../../../src/papers/sheets/cost-sheet.ts';
import type { BenchRates } from '../../../src/pattern/shop/bench.ts';
import type { SetContent } from '../../../src/pattern/set-file.ts';
import { colouredWren } from '../../support/coloured-wren.ts';
import { tries } from '../../support/thorough.ts';
import type { Element } from '../markup.ts';
import { childrenNamed, elementsIn, readMarkup, textOf } from '../markup.ts';
import { writtenRun } from '../wren-papers.ts';

let facts: RunFacts;

beforeAll(async () => {
  ({ facts } = await writtenRun(colouredWren));
});

/** A table as it is printed: the rows of its body, and its sums. */
interface Printed {
  readonly rows: readonly (readonly string[])[];
  readonly totals: readonly string[];
}

function printed(table: Element): Printed {
  const rowsOf = (part: string): string[][] =>
    childrenNamed(table, part).flatMap((body) =>
      childrenNamed(body, 'tr').map((row) => childrenNamed(row, 'td').map(textOf)),
    );
  return { rows: rowsOf('tbody'), totals: rowsOf('tfoot')[0] ?? [] };
}

/** What the sheet says, read from the page and from nothing else. */
function sheetOf(run: RunFacts): { whole: Printed; orders: Printed[]; cloth: Printed | undefined } {
  const html = paperHtml(costSheet(run)).replace(/<style>.*?<\/style>/s, '');
  const tables = elementsIn(readMarkup(html)).filter(({ name }) => name === 'table');
  const all = tables.map(printed);
  return {
    whole: all.find(({ totals }) => totals[0] === 'All orders')!,
    orders: all.filter(({ totals }) => totals[0] === 'Order'),
    cloth: all.find(({ totals }) => totals[0] === 'All rolls'),
  };
}

/** Printed amounts added up by currency in ten thousandths, with whole numbers alone. */
function added(amounts: readonly string[]): Record<string, bigint> {
  const sums: Record<string, bigint> = {};
  for (const text of amounts.flatMap((one) => one.split(' + '))) {
    const found = /^(\d+)(?:\.(\d+))? (\S+)$/.exec(text);
    if (found === null) {
      expect(['no price', '']).toContain(text);
      continue;
    }
    const [, whole, fraction = '', currency] = found;
    sums[currency!] = (sums[currency!] ?? 0n) + BigInt(whole! + fraction.padEnd(4, '0'));
  }
  return sums;
}

/** The whole number that a quantity is of its smallest unit, and how many of them the price is for. */
function counted(quantity: string): { count: bigint; per: bigint } {
  if (quantity.startsWith('under ')) return { count: 0n, per: 1n };
  const [figures, unit] = quantity.split(' ') as [string, string];
  // Times are in minutes and seconds: `0:26 min`.
  if (unit === 'min') {
    const [minutes, seconds] = figures.split(':') as [string, string];
    return { count: 60n * BigInt(minutes) + BigInt(seconds), per: 3600n };
  }
  const per = { m: 100n, set: 1n, sets: 1n }[unit]!;
  return { count: BigInt(figures.replace('.', '')), per };
}

/** What a line must cost: price times quantity, rounded half up in the figures of the price. */
function amountOf(price: string, quantity: string): string {
  const [, whole, fraction = '', currency] = /^(\d+)(?:\.(\d+))? (\S+) (?:a|an) \w+$/.exec(price)!;
  const { count, per } = counted(quantity);
  const minor = (2n * BigInt(whole! + fraction) * count + per) / (2n * per);
  const figures = String(minor).padStart(fraction.length + 1, '0');
  const point = figures.length - fraction.length;
  const digits = fraction === '' ? '' : `.${figures.slice(point)}`;
  return `${figures.slice(0, point)}${digits} ${currency}`;
}

/** Everything that must hold of any cost sheet, by what is printed alone. */
function expectSound(run: RunFacts): void {
  const { whole, orders, cloth } = sheetOf(run);
  expect(orders).toHaveLength(run.orders.length);
  for (const [what, quantity, price, amount] of whole.rows) {
    if (price === 'no price') expect(amount).toBe('no price');
    else expect([what, amount]).toEqual([what, amountOf(price!, quantity!)]);
  }
  expect(added(whole.rows.map((row) => row[3]!))).toEqual(added([whole.totals[3]!]));
  for (const { rows, totals } of orders) {
    // A currency of which an order has nothing but nought may be left out of its lines.
    expect(withoutNought(added(rows.map((row) => row[2]!)))).toEqual(
      withoutNought(added([totals[2]!])),
    );
  }
  expect(withoutNought(added(orders.map(({ totals }) => totals[2]!)))).toEqual(
    withoutNought(added([whole.totals[3]!])),
  );
  for (const [what, quantity, , amount] of whole.rows) {
    const shares = orders.flatMap(({ rows }) => rows.filter(([own]) => own === what));
    expect(withoutNought(added(shares.map((row) => row[2]!)))).toEqual(
      withoutNought(added([amount!])),
    );
    const sum = shares.reduce((total, row) => total + counted(row[1]!).count, 0n);
    expect([what, sum]).toEqual([what, counted(quantity!).count]);
  }
  for (const [what, inParts, waste] of cloth?.rows ?? []) {
    const line = whole.rows.find(([own]) => own === what)!;
    expect(added([inParts!, waste!])).toEqual(added([line[3]!]));
  }
}

function withoutNought(sums: Record<string, bigint>): Record<string, bigint> {
  return Object.fromEntries(Object.entries(sums).filter(([, sum]) => sum !== 0n));
}

const price = fc
  .tuple(
    fc.integer({ min: 0, max: 9_999 }),
    fc.integer({ min: 0, max: 999 }),
    fc.integer({ min: 0, max: 3 }),
    fc.constantFrom('EUR', 'EUR', 'kr'),
  )
  .map(([whole, fraction, digits, currency]) => {
    const figures = String(fraction).padStart(3, '0').slice(0, digits);
    return `${whole}${digits === 0 ? '' : `.${figures}`} ${currency}`;
  });
const maybePrice = fc.option(price, { nil: undefined });
const minutes = fc
  .double({ min: 0, max: 40, noNaN: true })
  .map((value) => Number(value.toFixed(2)));
const bench: fc.Arbitrary<BenchRates | null> = fc.option(
  fc.record({
    price,
    minutes: fc.record({
      bind: minutes,
      overlock: fc.option(minutes, { nil: undefined }),
      sew: minutes,
      pad: minutes,
      board: minutes,
    }) as fc.Arbitrary<BenchRates['minutes']>,
  }),
);
const perRoll = fc.record({
  price: maybePrice,
  ofColour: maybePrice,
  longer: fc.double({ min: 0, max: 60_000, noNaN: true }),
  more: fc.option(fc.double({ min: 0, max: 30_000, noNaN: true }), { nil: Infinity }),
  minutes: fc.double({ min: 0.001, max: 90, noNaN: true }),
});
const perOrder = fc.record({
  quantity: fc.integer({ min: 1, max: 40 }),
  finish: maybePrice,
  towbar: fc.boolean(),
  seats: fc.constantFrom('one', 'two'),
});
const varied = fc.record({
  rolls: fc.array(perRoll, { minLength: 5, maxLength: 5 }),
  orders: fc.array(perOrder, { minLength: 4, maxLength: 4 }),
  cutter: maybePrice,
  towbar: price,
  seats: fc.record({ one: price, two: price }),
  bench,
});
type Varied = typeof varied extends fc.Arbitrary<infer T> ? T : never;

/** The facts of the run with other prices, lengths, times, numbers, options and bench. */
function factsWith(change: Varied): RunFacts {
  const options: SetContent['options'] = {
    towbar: { words: 'tow bar', default: false, price: change.towbar },
    seats: { words: 'seats', values: ['one', 'two'], default: 'one', price: change.seats },
  };
  return {
    ...facts,
    cutter: { ...facts.cutter, price: change.cutter },
    bench: change.bench,
    materials: facts.materials.map((one, i) => {
      const { price: own, ofColour, longer, more, minutes: time } = change.rolls[i]!;
      const length = one.lay.length + longer;
      const colours = Object.fromEntries(
        Object.entries(one.material.colours ?? {}).map(([name, { sample }]) => [
          name,
          { sample, price: ofColour },
        ]),
      );
      return {
        ...one,
        material: {
          ...one.material,
          price: own,
          colours: one.material.colours === undefined ? undefined : colours,
        },
        lay: { ...one.lay, length, roll: { ...one.lay.roll, length: length + more } },
        knife: { ...one.knife, minutes: time },
      };
    }),
    orders: facts.orders.map((one, i) => {
      const { quantity, finish, towbar, seats } = change.orders[i]!;
      return {
        ...one,
        // An order of part of a set pays no option: here all are of whole sets.
        others: [],
        order: { ...one.order, quantity, options: { towbar } },
        set: {
          ...one.set,
          binding: { ...one.set.binding!, price: finish },
          content: { ...one.set.content, options },
          options: new Map<string, boolean | string>([
            ['towbar', towbar],
            ['seats', seats],
          ]),
        },
      };
    }),
  };
}

describe('the cost sheet', () => {
  it('adds up, line by line as printed, whatever the prices and quantities', () => {
    fc.assert(
      fc.property(varied, (change) => expectSound(factsWith(change))),
      { numRuns: tries(20, 100) },
    );
  });

  it('adds up as it was written', () => {
    expect(facts.materials).toHaveLength(5);
    expect(facts.orders).toHaveLength(4);
    expectSound(facts);
  });

  it('prints a share that is too short for its figures, since it is in the sum', () => {
    const [first, ...others] = facts.orders;
    const many = { ...facts, orders: [...Array.from({ length: 300 }, () => first!), ...others] };
    expectSound(many);
    const shares = sheetOf(many).orders.flatMap(({ rows }) => rows);
    expect(shares.filter(([, share]) => share === 'under 0.01 m').length).toBeGreaterThan(0);
  });

  // The knife takes 12 s over a lay, which are charged as a minute: 60 s, in as many equal shares.
  it('prints equal shares of a short time in one way', () => {
    const [order] = facts.orders;
    const three = {
      ...facts,
      orders: [order!, order!, order!],
      materials: facts.materials.map((one) => ({ ...one, knife: { ...one.knife, minutes: 0.2 } })),
    };
    const rows = sheetOf(three).orders.map(({ rows: own }) =>
      own.filter(([what]) => what === 'Cutting carpet for tests, claret').map(([, share]) => share),
    );
    expect(rows).toEqual([['0:20 min'], ['0:20 min'], ['0:20 min']]);
  });

  it('charges a colour its own price, and others that of their material', () => {
    const { rows } = sheetOf(facts).whole;
    const priceOf = (what: string): string => rows.find(([own]) => own === what)![2]!;
    expect(priceOf('carpet for tests, claret')).toBe('24.50 EUR a metre');
    expect(priceOf('carpet for tests, fawn')).toBe('27.10 EUR a metre');
    expect(priceOf('wool for tests, moss')).toBe('61.00 EUR a metre');
  });

  // Order A4 is a footrest and its board, at 32.00 EUR an hour. It is 200 x 140 with a corner of 40 x 40
  // off: 160 + 100 + 200 + 140 + 40 sqrt(2) = 656.57 mm are bound. At 4 minutes a metre that is 2.63, so 3
  // minutes: 3 x 3200 / 60 = 160 cents. The board takes 8 minutes: 8 x 3200 / 60 = 426.67, so 427 cents.
  // By itself nothing is shared, and nothing else is done.
  it('charges the bench as it is worked out by hand', () => {
    const own = facts.orders.findIndex(({ order }) => order.order === 'A4');
    const alone = { ...facts, orders: [facts.orders[own]!] };
    const rows = sheetOf(alone).orders[0]!.rows.filter(([what]) => what!.startsWith('Bench'));
    expect(rows).toEqual([
      ['Bench: binding', '3:00 min', '1.60 EUR'],
      ['Bench: boards', '8:00 min', '4.27 EUR'],
    ]);
  });

  // Of A2 the dash is sewn to the floor along 1100 mm: 6.6, so 7 minutes. Two pads are 20 minutes. Of A3
  // the dash is not ordered, nor is the pad: nothing is sewn, and no pad laid on.
  it('charges a seam once, and none to what is not ordered', () => {
    const { orders } = sheetOf(facts);
    const quantities = (order: string): Record<string, string> => {
      const at = facts.orders.findIndex((one) => one.order.order === order);
      const lines = orders[at]!.rows.filter(([what]) => what!.startsWith('Bench'));
      return Object.fromEntries(lines.map(([what, share]) => [what, share]));
    };
    expect(quantities('A2')).toMatchObject({
      'Bench: sewing': '7:00 min',
      'Bench: heel pads': '20:00 min',
    });
    expect(Object.keys(quantities('A2'))).toContain('Bench: overlocking');
    expect(Object.keys(quantities('A2'))).not.toContain('Bench: binding');
    expect(Object.keys(quantities('A3'))).toEqual(['Bench: binding']);
  });

  it('says what is left on a roll and what that is worth, where its length is known', () => {
    const { rows } = sheetOf(facts).cloth!;
    for (const [what, , , left, worth] of rows) {
      const one = facts.materials.find(({ lay, material }) => {
        const colour = lay.roll.colour === undefined ? '' : `, ${lay.roll.colour}`;
        return `${material.title}${colour}` === what;
      })!;
      const rest = one.lay.roll.length - one.lay.length;
      if (!Number.isFinite(rest)) expect([left, worth]).toEqual(['length not said', '']);
      else {
        const cm = Math.floor(rest / 10);
        expect(left).toBe(`${Math.floor(rest)} mm`);
        const each = what!.endsWith('fawn') ? 2710 : 2450;
        expect(worth).toBe(`${(Math.floor((each * cm) / 100 + 0.5) / 100).toFixed(2)} EUR`);
      }
    }
    expect(rows.filter(([, , , left]) => left !== 'length not said')).toHaveLength(2);
  });

  it('asks an order of part of a set for no option, whether it names it or not, and says so', () => {
    const options: SetContent['options'] = {
      towbar: { words: 'tow bar', default: true, price: '18.00 EUR' },
    };
    const run = {
      ...facts,
      orders: facts.orders.map((one) => ({
        ...one,
        order: {
          ...one.order,
          ...(one.order.order === 'A4' ? { options: { towbar: true } } : {}),
        },
        set: {
          ...one.set,
          content: { ...one.set.content, options },
          options: new Map<string, boolean | string>([['towbar', true]]),
        },
      })),
    };
    expectSound(run);
    const charged = sheetOf(run).orders.map(
      ({ rows }) => rows.find(([what]) => what === 'Option: tow bar')?.[1],
    );
    expect(charged).toEqual(['2 sets', '1 set', undefined, undefined]);
    const words = 'Not charged, as only part of the set is ordered: tow bar (18.00 EUR).';
    expect(paperHtml(costSheet(run)).split(words)).toHaveLength(3);
  });
});
