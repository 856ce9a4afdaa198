import { describe, expect, it } from 'vitest';
import { orderSchema } from '../../../../src/handing/order.ts';
import type { MaterialCard, SetCard } from '../../../../src/web/api/shop.ts';
import {
  coloursFor,
  edgeColour,
  withChosen,
  withEdge,
  withMaterial,
  withOption,
  withText,
} from '../../../../src/web/page/orders/choices.ts';

const order = orderSchema.parse({ order: 'A', set: 'wren', hand: 'RHD' });

function material(name: string, ...colours: readonly string[]): MaterialCard {
  return {
    name,
    title: name,
    kind: 'carpet',
    uses: ['carpet'],
    colours: colours.length === 0 ? null : colours.map((one) => ({ name: one, sample: '#102030' })),
    thickness: 4,
    turns: 'one-way',
    gap: 6,
    width: 1500,
    selvedge: 20,
    startMargin: 15,
    length: null,
  };
}

const shop = {
  materials: [material('loop', 'claret', 'navy'), material('plush', 'claret'), material('plain')],
};

const nothing = { usual: null, fixed: [] };

const set: SetCard = {
  name: 'wren',
  title: 'Wren',
  drawn: 'RHD',
  pieces: ['floor'],
  groups: {},
  options: [],
  materials: {
    carpet: { usual: 'loop', fixed: [] },
    pad: nothing,
    board: nothing,
    underlay: { usual: 'plain', fixed: [] },
  },
  finish: 'tape',
  colours: ['black', 'sand'],
  pads: [],
  hasBoards: false,
  hasUnderlay: true,
};

describe('a material and its colour', () => {
  it('are said, and not said any more', () => {
    const claret = withChosen(order, 'carpet', { colour: 'claret' });
    expect(claret.carpet).toEqual({ colour: 'claret' });
    expect(withChosen(claret, 'carpet', { colour: '' })).toEqual(order);
  });

  it('of an underlay that is wanted anyway leave it wanted', () => {
    const chosen = withChosen(order, 'underlay', { material: 'plain' });
    expect(chosen.underlay).toEqual({ material: 'plain' });
    expect(withChosen(chosen, 'underlay', { material: '' }).underlay).toBe(true);
  });

  it('go together: a colour stays where the other material is kept in it', () => {
    const navy = withChosen(order, 'carpet', { colour: 'navy' });
    const claret = withChosen(order, 'carpet', { colour: 'claret' });
    expect(withMaterial(navy, 'carpet', 'plush', set, shop).carpet).toEqual({ material: 'plush' });
    expect(withMaterial(claret, 'carpet', 'plush', set, shop).carpet).toEqual({
      material: 'plush',
      colour: 'claret',
    });
  });

  it('of pieces that name theirs themselves are there to choose, too', () => {
    const mixed: SetCard = {
      ...set,
      materials: { ...set.materials, carpet: { usual: 'plush', fixed: ['loop'] } },
    };
    const plain = withChosen(order, 'carpet', { material: 'plain' });
    expect(coloursFor(plain, 'carpet', mixed, shop).map(({ name }) => name)).toEqual([
      'claret',
      'navy',
    ]);
    expect(coloursFor(plain, 'carpet', set, shop)).toEqual([]);
  });
});

describe('edges', () => {
  it('keep the short key while it says enough', () => {
    const sand = withEdge(order, '', 'sand');
    expect(sand).toEqual({ ...order, binding: 'sand' });
    const leather = withEdge(sand, 'leather', 'sand');
    expect(leather).toEqual({ ...order, edge: { finish: 'leather', colour: 'sand' } });
    expect([sand, leather].map(edgeColour)).toEqual(['sand', 'sand']);
    expect(orderSchema.safeParse(leather).success).toBe(true);
    expect(withEdge(leather, '', '')).toEqual(order);
  });
});

describe('an option', () => {
  const lock = { name: 'lock', words: 'second lock', values: null, usual: false };
  const size = { name: 'size', words: 'wheelbase', values: ['short', 'long'], usual: 'short' };
  it('is written where it is not as usual, and only there', () => {
    const both = withOption(withOption(order, lock, true), size, 'long');
    expect(both.options).toEqual({ lock: true, size: 'long' });
    expect(withOption(both, lock, false).options).toEqual({ size: 'long' });
    expect(withOption(withOption(both, lock, false), size, 'short')).toEqual(order);
  });
});

it('a text that is emptied is not written', () => {
  const due = withText(order, 'due', '2026-12-04');
  expect(due.due).toBe('2026-12-04');
  expect(withText(due, 'due', '')).toEqual(order);
});
