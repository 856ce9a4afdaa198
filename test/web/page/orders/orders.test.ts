import { describe, expect, it } from 'vitest';
import type { Order } from '../../../../src/handing/order.ts';
import { orderSchema } from '../../../../src/handing/order.ts';
import type { RunContent } from '../../../../src/run/run-file.ts';
import { runSchema } from '../../../../src/run/run-file.ts';
import {
  firstOrder,
  freshOrder,
  nextOrderName,
  withOrder,
  withoutOrder,
} from '../../../../src/web/page/orders/orders.ts';

const pin = (part: string): { part: string; at: [number, number]; rotation: number } => ({
  part,
  at: [1, 2],
  rotation: 0,
});

function contentOf(...orders: { order: string; quantity?: number }[]): RunContent {
  return runSchema.parse({
    title: 'Week',
    cutter: 'long-bay',
    orders: orders.map((one) => ({ set: 'wren', hand: 'RHD', ...one })),
    rolls: {
      loop: [
        { name: 'a', pins: [pin('mat-left.1.A')], laid: [pin('mat-left.2.A'), pin('mat.1.B')] },
        { name: 'b', laid: [pin('mat-right.3.A')] },
      ],
      felt: { laid: [pin('mat-underlay.1.A'), pin('mat-underlay.1.B-A')] },
    },
  });
}

/** What lies on all rolls, by label. */
function onRolls({ rolls }: RunContent): string[] {
  return Object.values(rolls)
    .flat()
    .flatMap(({ pins, laid }) => [...pins, ...laid])
    .map(({ part }) => part)
    .sort();
}

const all = [
  'mat-left.1.A',
  'mat-left.2.A',
  'mat-right.3.A',
  'mat-underlay.1.A',
  'mat-underlay.1.B-A',
  'mat.1.B',
];
const withoutA = ['mat-underlay.1.B-A', 'mat.1.B'];

describe('the next order', () => {
  it.each([
    [['1041'], '1042'],
    [['1041', '1042', '1041'], '1043'],
    [['A-099'], 'A-100'],
    [['A-007'], 'A-008'],
    [['first'], 'first1'],
  ])('after %s is %s', (names, next) => {
    expect(nextOrderName(contentOf(...names.map((order) => ({ order }))))).toBe(next);
  });
});

it('a new order has the set and the hand of the last one, and nothing else of it', () => {
  const last = orderSchema.parse({
    order: 'B7',
    set: 'tit',
    hand: 'LHD',
    quantity: 4,
    heelPads: 'both',
    boards: false,
    underlay: { colour: 'grey' },
    carpet: { colour: 'claret' },
    edge: { finish: 'leather', colour: 'tan' },
    thread: 'grey',
    without: ['mat'],
    options: { lock: true },
    customer: 'Hill',
    due: '2026-12-04',
    benchNote: 'Mind the corner.',
    customerNote: 'Dry it flat.',
  });
  const content = contentOf({ order: 'A' });
  const fresh = freshOrder({ ...content, orders: [...content.orders, last] });
  expect(fresh).toEqual(orderSchema.parse({ order: 'B8', set: 'tit', hand: 'LHD' }));
});

it('the first order of a run has the colour of no tape, though the set has one', () => {
  const card = { name: 'tit', drawn: 'LHD' as const, colours: ['black', 'tan'] };
  expect(firstOrder(card)).toEqual(orderSchema.parse({ order: '1', set: 'tit', hand: 'LHD' }));
});

describe('what lies on the rolls', () => {
  const content = contentOf({ order: 'A', quantity: 3 }, { order: 'B' });
  const [first] = content.orders as [Order, Order];

  it.each([
    ['tape in another colour', { binding: 'sand' }],
    ['edges in a colour', { edge: { colour: 'sand' } }],
    ['thread', { thread: 'grey' }],
    ['day', { due: '2026-12-04' }],
    ['customer', { customer: 'Hill' }],
    ['notes', { benchNote: 'Mind the corner.', customerNote: 'Dry it flat.' }],
  ] as [string, Partial<Order>][])('stays where an order only has its %s', (_, change) => {
    expect(onRolls(withOrder(content, 0, { ...first, ...change }))).toEqual(all);
  });

  it('stays where an order says the same in another order of its keys', () => {
    const turned = Object.fromEntries(Object.entries(first).reverse()) as Order;
    expect(onRolls(withOrder(content, 0, turned))).toEqual(all);
  });

  it('stays as far as an order has so many sets', () => {
    const fewer = onRolls(withOrder(content, 0, { ...first, quantity: 2 }));
    expect(fewer).toEqual(all.filter((label) => label !== 'mat-right.3.A'));
    expect(onRolls(withOrder(content, 0, { ...first, quantity: 4 }))).toEqual(all);
  });

  const pinsOf = ({ rolls }: RunContent): string[] =>
    Object.values(rolls)
      .flat()
      .flatMap(({ pins }) => pins.map(({ part }) => part));

  it.each([
    ['hand', { hand: 'LHD' }],
    ['pads', { heelPads: 'none' }],
    ['boards', { boards: false }],
    ['underlay', { underlay: false }],
    ['finish', { edge: { finish: 'leather' } }],
    ['choice of pieces', { alone: ['mat'] }],
    ['option', { options: { lock: true } }],
  ] as [string, Partial<Order>][])(
    'stays and is pinned no more where the %s is another: some of it may be others now',
    (_, change) => {
      const changed = withOrder(content, 0, { ...first, ...change });
      expect(onRolls(changed)).toEqual(all);
      expect(pinsOf(content)).toEqual(['mat-left.1.A']);
      expect(pinsOf(changed)).toEqual([]);
    },
  );

  it('stays under its new name where an order is called otherwise, and is pinned as before', () => {
    const renamed = withOrder(content, 0, { ...first, order: 'C' });
    expect(onRolls(renamed)).toEqual(all.map((label) => label.replace(/\.A$/, '.C')).sort());
    expect(pinsOf(renamed)).toEqual(['mat-left.1.C']);
  });

  it.each([
    ['set', { set: 'tit' }],
    ['carpet', { carpet: { colour: 'claret' } }],
    ['underlay’s material', { underlay: { material: 'felt' } }],
  ] as [string, Partial<Order>][])(
    'is let go of the order alone whose %s is another',
    (_, change) => {
      expect(onRolls(withOrder(content, 0, { ...first, ...change }))).toEqual(withoutA);
    },
  );

  it('is let go of an order that is taken out', () => {
    const left = withoutOrder(content, 0);
    expect(left.orders.map(({ order }) => order)).toEqual(['B']);
    expect(onRolls(left)).toEqual(withoutA);
  });
});
