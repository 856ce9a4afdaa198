import { describe, expect, it } from 'vitest';
import type { Order } from '../../../../src/handing/order.ts';
import { orderSchema } from '../../../../src/handing/order.ts';
import type { SetCard, Shop } from '../../../../src/web/api/shop.ts';
import type { SetChange } from '../../../../src/web/page/orders/set-change.ts';
import { changeSet, withSet } from '../../../../src/web/page/orders/set-change.ts';
import { shopCards } from '../../../../src/web/tasks/shop.ts';
import { workshopIn } from '../../../../src/web/workshop/workshop.ts';
import { colouredWren, inFolder } from '../../../support/wren.ts';

const cards: Shop = await inFolder(colouredWren, (root) => shopCards({ shop: workshopIn(root) }));
const wren = cards.sets[0]!;

/** A set with nothing of what the Wren has, whose tape is kept in two colours. */
const tit: SetCard = {
  ...wren,
  name: 'tit',
  title: 'Tit',
  pieces: ['nose', 'tail'],
  groups: {},
  options: [],
  materials: { ...wren.materials, carpet: { usual: null, fixed: ['loop'] } },
  colours: ['black', 'tan'],
  pads: [],
  hasBoards: false,
};

/** Like the Wren, with another wheelbase and another group. */
const robin: SetCard = {
  ...wren,
  name: 'robin',
  title: 'Robin',
  pieces: ['floor', 'mat'],
  groups: { front: ['mat'] },
  options: [
    { name: 'lock', words: 'second lock', values: null, usual: true },
    { name: 'size', words: 'wheelbase', values: ['short', 'medium'], usual: 'short' },
  ],
};

function orderOf(more: object): Order {
  return orderSchema.parse({ order: 'A', set: 'wren', hand: 'LHD', ...more });
}

const full = orderOf({
  quantity: 3,
  carpet: { material: 'velour', colour: 'claret' },
  pad: { material: 'velour', colour: 'stone' },
  edge: { finish: 'leather', colour: 'tan' },
  options: { lock: false, size: 'long' },
  alone: ['floor', 'feet', 'mat-pad-left'],
  without: ['dash'],
  thread: 'grey',
  customer: 'Hill',
  due: '2026-12-04',
  benchNote: 'Mind the corner.',
});

describe('an order of another set', () => {
  it('keeps what the set has too, and says what it does not have', () => {
    const { order, dropped } = withSet(full, robin, cards);
    expect(order).toEqual({
      ...full,
      set: 'robin',
      options: { lock: false },
      alone: ['floor', 'mat-pad-left'],
      without: undefined,
    });
    expect(dropped).toEqual(['option size long', 'pieces feet, dash']);
    expect(orderSchema.safeParse(order).success).toBe(true);
  });

  it('is told of all that the set has not, and nothing is filled in', () => {
    const { order, dropped } = withSet(full, tit, cards);
    const { pad: _, options: __, alone: ___, without: ____, carpet: _____, ...others } = full;
    expect(order).toEqual({ ...others, set: 'tit', carpet: { colour: 'claret' } });
    expect(dropped).toEqual([
      'options lock and size long',
      'pieces floor, feet, mat-pad-left, dash, so that all are wanted',
      'carpet of velour',
      'pad of velour',
      'pad in stone',
    ]);
  });

  it('gets no colour that nobody chose, and loses one that is not kept', () => {
    const silent = orderOf({});
    expect(withSet(silent, tit, cards)).toEqual({
      order: { ...silent, set: 'tit' },
      dropped: [],
    });
    const sand = orderOf({ binding: 'sand' });
    expect(withSet(sand, tit, cards)).toEqual({
      order: { ...silent, set: 'tit' },
      dropped: ['tape in sand'],
    });
    expect(withSet(sand, robin, cards).order).toEqual({ ...sand, set: 'robin' });
  });

  it('without underlay still wants none', () => {
    const bare = orderOf({ underlay: false, boards: false, heelPads: 'none' });
    expect(withSet(bare, tit, cards).order).toEqual({ ...bare, set: 'tit' });
  });
});

describe('going through the sets', () => {
  const change = (order: Order, set: SetCard, earlier: SetChange | null): SetChange =>
    changeSet(order, set, cards, earlier);
  const toTit = change(full, tit, null);

  it('and back loses nothing', () => {
    expect(toTit.lines).toEqual([expect.stringMatching(/^Dropped, as Tit has no such: options/)]);
    const back = change(toTit.after, wren, toTit);
    expect(back.after).toEqual(full);
    expect(back.lines).toEqual([]);
  });

  it('goes from what the order was, and says what the last set has not', () => {
    const toRobin = change(toTit.after, robin, toTit);
    expect(toRobin.after).toEqual(withSet(full, robin, cards).order);
    expect(toRobin.lines).toEqual([
      'Dropped, as Robin has no such: option size long; pieces feet, dash.',
    ]);
  });

  it('keeps what was changed meanwhile, and the order as it was', () => {
    const changed = { ...toTit.after, quantity: 5 };
    const back = change(changed, wren, toTit);
    expect(back.after).toEqual({ ...changed, set: 'wren' });
    expect(back.lines).toEqual(toTit.lines);
    expect(back.before).toBe(full);
  });
});
