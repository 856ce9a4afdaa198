import { describe, expect, it } from 'vitest';
import type { Order } from '../../../src/handing/order.ts';
import { orderSchema } from '../../../src/handing/order.ts';
import { inProposedOrder, leastLength, together } from '../../../src/web/tasks/together.ts';
import { plan } from '../../../src/web/tasks/plan.ts';
import { workshopIn } from '../../../src/web/workshop/workshop.ts';
import { box } from '../../../patterns/fenlark/pen.ts';
import type { Part } from '../../../src/handing/part.ts';
import { part as samplePart } from '../../knife/sample-parts.ts';
import { colouredWren, inFolder, replaced, runFile } from '../../support/wren.ts';

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
    const { orders: proposed, note } = inProposedOrder(orders, usable);
    expect(proposed.map(({ order, why }) => `${order}: ${why}`)).toEqual([
      'D: due 2026-12-04, wide (part-D: 501 mm)',
      'C: due 2026-12-04, small',
      'E: due 2026-12-04, small',
      'F: due 2026-12-11, wide (part-F: 800 mm)',
      'B: due 2026-12-11, small',
      'A: no day said',
    ]);
    expect(note).toBe(
      'Wide is what takes more than half of the 1000 mm across: nothing as wide fits beside it. Small parts fill what is left.',
    );
  });

  it('leaves orders that are alike in this as they stand, and says once what they have alike', () => {
    const alike = (due: string | null, across: number) =>
      inProposedOrder(
        ['C', 'A', 'B'].map((name) => wanted(name, due, across)),
        usable,
      );
    for (const across of [200, 900]) {
      const { orders, note } = alike('2026-12-04', across);
      expect(orders.map(({ order, why }) => [order, why])).toEqual([
        ['C', ''],
        ['A', ''],
        ['B', ''],
      ]);
      expect(note).toBe('All due 2026-12-04.');
    }
    expect(alike(null, 200).note).toBe('No day said.');
    expect(inProposedOrder([wanted('A', '2026-12-04', 900)], usable).note).toBe('Due 2026-12-04.');
  });
});

describe('the least length that is needed', () => {
  const usable = 600;
  const part = (across: number, more: Partial<Part> = {}): Part => {
    const path = box(0, 0, 740, across);
    return samplePart('runner.1.A', path, { edges: [], pileDeg: null, ...more });
  };

  it('is that of the longest part, in the turns that it may lie in', () => {
    expect(leastLength([part(200)], 'one-way', usable)).toBeCloseTo(740, 9);
    expect(leastLength([part(200, { pileDeg: 90 })], 'any', 800)).toBeCloseTo(200, 9);
    // On its side it is wider than the roll.
    expect(leastLength([part(200)], 'any', usable)).toBeCloseTo(740, 9);
    expect(leastLength([part(200, { turns: 'one-way' })], 'any', 800)).toBeCloseTo(740, 9);
  });

  it('is that of their area, where this is more', () => {
    const many = Array.from({ length: 9 }, () => part(200));
    expect(leastLength(many, 'one-way', usable)).toBeCloseTo((9 * 740 * 200) / usable, 9);
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
        ['board', null, 'C2 C3 C1 N1 V1'],
        ['rubber', null, 'C2 C3 C1 N1 V1'],
        // These are due on no day.
        ['loop', 'navy', 'N1'],
        ['velour', 'stone', 'V1'],
      ]);
      // The floor of 1100 mm has a tuck of 30 mm at each side.
      expect(cloths[0]!.orders[0]!.why).toBe('due 2026-12-04, wide (floor: 1160 mm)');
      expect(cloths[0]!.note).toContain('half of the 1460 mm across');
      expect(cloths[3]).toMatchObject({ note: 'No day said.', orders: [{ why: '' }] });
      expect(cloths.map(({ length }) => length)).toEqual([9000, null, null, 4000, null]);
      expect(cloths[0]).toMatchObject({ sample: '#6b1f2a', title: 'carpet for tests' });
    });
  });
});

describe('a run with an order that is wrong', () => {
  it('is looked at without it, and says which it is', async () => {
    const silent = replaced(colouredWren, runFile, 'carpet: { colour: navy }, ', '');
    await inFolder(silent, (root) => {
      const { cloths, left, findings } = together({ shop: workshopIn(root), run: 'wren-week' });
      expect(left).toEqual(['N1']);
      expect(findings).toMatchObject([{ rule: 'colour', where: { line: 8 } }]);
      expect(findings[0]!.message).toContain('"N1" does not say the colour of its carpet');
      expect(cloths.map(({ orders }) => orders.map(({ order }) => order).join(' '))).toEqual([
        'C3 C2 C1',
        'C2 C3 C1 V1',
        'C2 C3 C1 V1',
        'V1',
      ]);
    });
  });

  it('is refused where something else is wrong', async () => {
    const noCutter = replaced(colouredWren, runFile, 'long-bay', 'no-bay');
    await inFolder(noCutter, (root) => {
      expect(() => together({ shop: workshopIn(root), run: 'wren-week' })).toThrow(/no-bay/);
    });
  });
});

it('a part that is longer than all parts are by their area is needed whole', async () => {
  const one = replaced(colouredWren, runFile, 'without: [dash]', 'alone: [floor]');
  await inFolder(one, (root) => {
    const { cloths } = together({ shop: workshopIn(root), run: 'wren-week' });
    const navy = cloths.find(({ colour }) => colour === 'navy')!;
    // The floor is 900 mm long with a seam of 10 mm in front, behind a start margin of 15 mm.
    expect(navy.least).toBeCloseTo(925, 6);
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
