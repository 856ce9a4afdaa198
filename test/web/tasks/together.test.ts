import { describe, expect, it } from 'vitest';
import type { Order } from '../../../src/handing/order.ts';
import { orderSchema } from '../../../src/handing/order.ts';
import { inProposedOrder, together } from '../../../src/web/tasks/together.ts';
import { plan } from '../../../src/web/tasks/plan.ts';
import { workshopIn } from '../../../src/web/workshop/workshop.ts';
import { colouredWren, inFolder } from '../../support/wren.ts';

function wanted(order: string, due: string | null, across: number) {
  return { order, due, parts: 1, widest: { name: `part-${order}`, across } };
}

describe('what is proposed to be cut first', () => {
  const usable = 1000;
  it('is what is due first; of one day what needs the width; what has no day comes last', () => {
    const orders = [
      wanted('A', null, 900),
      wanted('B', '2026-12-11', 300),
      wanted('C', '2026-12-04', 500),
      wanted('D', '2026-12-04', 501),
      wanted('E', '2026-12-04', 100),
      wanted('F', '2026-12-11', 800),
    ];
    const proposed = inProposedOrder(orders, usable);
    expect(proposed.map(({ order }) => order)).toEqual(['D', 'C', 'E', 'F', 'B', 'A']);
    expect(proposed.map(({ why }) => why.split(':')[0])).toEqual([
      'Due 2026-12-04, before smaller ones',
      'Due 2026-12-04, after wider ones',
      'Due 2026-12-04, after wider ones',
      'Due 2026-12-11, before smaller ones',
      'Due 2026-12-11, after wider ones',
      'No day is said',
    ]);
    expect(proposed[0]!.why).toContain(
      'part-D, takes 501 of 1000 mm across, so nothing as wide fits beside it.',
    );
  });

  it('leaves orders that are alike in this as they stand', () => {
    const orders = ['C', 'A', 'B'].map((name) => wanted(name, '2026-12-04', 200));
    expect(inProposedOrder(orders, usable).map(({ order }) => order)).toEqual(['C', 'A', 'B']);
    expect(inProposedOrder(orders, usable)[0]!.why).toMatch(/^Due 2026-12-04: /);
  });
});

describe('orders of a run', () => {
  it('share the rolls of what they are cut from', async () => {
    await inFolder(colouredWren, (root) => {
      const { cloths } = together({ shop: workshopIn(root), run: 'wren-week' });
      expect(
        cloths.map(({ material, colour, orders }) => [
          material,
          colour,
          orders.map(({ order }) => order).join(' '),
        ]),
      ).toEqual([
        // C2 is of small pieces alone, and due on the same day as C3.
        ['loop', 'claret', 'C3 C2 C1'],
        ['loop', 'navy', 'N1'],
        ['velour', 'stone', 'V1'],
        ['board', null, 'C2 C3 C1 N1 V1'],
        ['rubber', null, 'C2 C3 C1 N1 V1'],
      ]);
      // The floor of 1100 mm has a tuck of 30 mm at each side.
      expect(cloths[0]!.orders[0]!.why).toContain('floor, takes 1160 of 1460 mm across');
      // The board of 196 x 136 mm may be turned on its side.
      expect(cloths[3]!.orders[0]!.why).toContain('rest-board-left, takes 136 of 760 mm across');
      expect(cloths.map(({ length }) => length)).toEqual([9000, 4000, null, null, null]);
      expect(cloths[0]).toMatchObject({ sample: '#6b1f2a', title: 'carpet for tests' });
    });
  });
});

describe('the plan of an order', () => {
  async function planOf(more: object): Promise<ReturnType<typeof plan>> {
    const order: Order = orderSchema.parse({ order: 'A', set: 'wren', hand: 'LHD', ...more });
    return inFolder(colouredWren, (root) => plan({ shop: workshopIn(root), order }));
  }

  it('shows what it chooses, and what it leaves out', async () => {
    const chosen = await planOf({
      carpet: { material: 'velour', colour: 'stone' },
      alone: ['feet'],
    });
    expect(chosen.findings).toEqual([]);
    expect(chosen.parts.map(({ name, cloth }) => `${name} ${cloth}`)).toEqual([
      'mat-left velour-stone',
      'mat-pad-left rubber',
      'mat-right velour-stone',
      'rest-left velour-stone',
      'rest-board-left board',
    ]);
    const left = new Set(chosen.after.filter((one) => one.left).map(({ name }) => name));
    expect([...left].sort()).toEqual(['cover', 'dash', 'floor']);
  });

  it('says what is wrong with the order, and is drawn all the same', async () => {
    const silent = await planOf({});
    expect(silent.findings.map(({ rule }) => rule)).toEqual(['colour']);
    expect(silent.parts.length).toBeGreaterThan(5);
  });

  it('is refused where the order names what there is not', async () => {
    await expect(planOf({ options: { turbo: true } })).rejects.toThrow(/no such option/);
  });
});
