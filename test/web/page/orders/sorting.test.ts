import { describe, expect, it } from 'vitest';
import type { Order } from '../../../../src/handing/order.ts';
import { orderSchema } from '../../../../src/handing/order.ts';
import type { Shop } from '../../../../src/web/api/shop.ts';
import { shopCards } from '../../../../src/web/tasks/shop.ts';
import { groupsBy, traitsOf } from '../../../../src/web/page/orders/sorting.ts';
import { workshopIn } from '../../../../src/web/workshop/workshop.ts';
import { colouredWren, inFolder } from '../../../support/wren.ts';

async function cards(): Promise<Shop> {
  return inFolder(colouredWren, (root) => shopCards({ shop: workshopIn(root) }));
}

function order(name: string, more: object): Order {
  return orderSchema.parse({ order: name, set: 'wren', hand: 'RHD', ...more });
}

const orders = [
  order('A', { carpet: { colour: 'navy' }, due: '2026-12-11', quantity: 2 }),
  order('B', { carpet: { material: 'velour', colour: 'claret' } }),
  order('C', { due: '2026-12-04' }),
  order('D', { carpet: { colour: 'claret' }, due: '2026-12-04' }),
];

describe('orders', () => {
  it('are known by the cloth and the quality of their carpet, and by their day', async () => {
    const shop = await cards();
    expect(shop.findings).toEqual([]);
    expect(orders.map((one) => traitsOf(one, shop))).toEqual([
      {
        colour: 'navy',
        cloth: 'carpet for tests, navy',
        quality: 'carpet for tests',
        due: '2026-12-11',
      },
      {
        colour: 'claret',
        cloth: 'velour for tests, claret',
        quality: 'velour for tests',
        due: 'no day',
      },
      {
        colour: 'colour not said',
        cloth: 'carpet for tests, colour not said',
        quality: 'carpet for tests',
        due: '2026-12-04',
      },
      {
        colour: 'claret',
        cloth: 'carpet for tests, claret',
        quality: 'carpet for tests',
        due: '2026-12-04',
      },
    ]);
    expect(traitsOf(order('E', { set: 'tit' }), shop)).toMatchObject({ quality: 'not known' });
  });

  it('are counted by what they have alike, days in their order and none last', async () => {
    const shop = await cards();
    const known = orders.map((one) => traitsOf(one, shop));
    expect(groupsBy('due', orders, known)).toEqual([
      { trait: 'due', value: '2026-12-04', orders: [2, 3], sets: 2 },
      { trait: 'due', value: '2026-12-11', orders: [0], sets: 2 },
      { trait: 'due', value: 'no day', orders: [1], sets: 1 },
    ]);
    // The two in claret lie on two rolls.
    expect(groupsBy('cloth', orders, known).map(({ value, orders: own }) => [value, own])).toEqual([
      ['carpet for tests, claret', [3]],
      ['carpet for tests, colour not said', [2]],
      ['carpet for tests, navy', [0]],
      ['velour for tests, claret', [1]],
    ]);
  });
});
