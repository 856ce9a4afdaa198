import { describe, expect, it } from 'vitest';
import type { Order } from '../../../../src/handing/order.ts';
import { orderSchema } from '../../../../src/handing/order.ts';
import type { Shop } from '../../../../src/web/api/shop.ts';
import { lineFacts } from '../../../../src/web/page/orders/order-words.ts';
import { hasPad } from '../../../../src/web/page/orders/pieces.ts';
import { traitsOf } from '../../../../src/web/page/orders/sorting.ts';
import { plan } from '../../../../src/web/tasks/plan.ts';
import { shopCards } from '../../../../src/web/tasks/shop.ts';
import { workshopIn } from '../../../../src/web/workshop/workshop.ts';
import { colouredWren, inFolder } from '../../../support/wren.ts';

const cards: Shop = await inFolder(colouredWren, (root) => shopCards({ shop: workshopIn(root) }));
const wren = cards.sets[0]!;

function orderOf(more: object): Order {
  return orderSchema.parse({ order: 'A', set: 'wren', hand: 'RHD', ...more });
}

function facts(more: object): string {
  const order = orderOf(more);
  return lineFacts(order, wren, cards, traitsOf(order, cards)).join(', ');
}

describe('the line of an order', () => {
  it.each([
    [{}, 'colour not said, pad for the driver'],
    [{ carpet: { colour: 'navy' }, binding: 'navy' }, 'navy, tape navy, pad for the driver'],
    [
      {
        carpet: { material: 'velour', colour: 'stone' },
        edge: { finish: 'leather', colour: 'tan' },
      },
      'velour for tests stone, edges leather strip tan, pad for the driver',
    ],
    [
      { heelPads: 'both', pad: { material: 'velour', colour: 'claret' } },
      'colour not said, pads on both sides in velour for tests claret',
    ],
    [{ heelPads: 'none', pad: { colour: 'claret' } }, 'colour not said, no pads'],
    [{ alone: ['mat-left'] }, 'colour not said, only mat-left'],
    [{ alone: ['mat-left'], heelPads: 'none' }, 'colour not said, only mat-left, no pads'],
    [{ without: ['feet'], boards: false }, 'colour not said, without feet, without boards'],
    [
      { options: { lock: true, size: 'long' }, alone: ['floor', 'dash'] },
      'colour not said, second lock, wheelbase long, only floor and dash',
    ],
    [{ options: { lock: false, size: 'short' }, alone: ['cab'] }, 'colour not said, only cab'],
    [
      { alone: ['cab'], underlay: false, due: '2026-12-04', customer: 'Hill' },
      'colour not said, only cab, due 2026-12-04, Hill',
    ],
  ])('of %j says %s', (more, words) => {
    const sorted = (text: string): string[] => text.split(', ').sort();
    expect(sorted(facts(more))).toEqual(sorted(words));
  });
});

it('pads are said where the parts of the order have one, and there alone', async () => {
  const selections = [
    {},
    ...['mat', 'mat-left', 'mat-right', 'feet', 'cab', 'mat-pad-left', 'mat-pad-right'].flatMap(
      (name) => [{ alone: [name] }, { without: [name] }],
    ),
  ];
  await inFolder(colouredWren, (root) => {
    const seen = new Set<boolean>();
    for (const selection of selections) {
      for (const hand of ['RHD', 'LHD']) {
        for (const heelPads of ['driver', 'both', 'none']) {
          const order = orderOf({ ...selection, hand, heelPads, carpet: { colour: 'navy' } });
          const { parts } = plan({ shop: workshopIn(root), order });
          const isThere = parts.some(({ kind }) => kind === 'pad');
          expect([order, hasPad(order, wren)]).toEqual([order, isThere]);
          seen.add(isThere);
        }
      }
    }
    expect(seen.size).toBe(2);
  });
});
