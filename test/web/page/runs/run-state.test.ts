import { describe, expect, it } from 'vitest';
import type { RunGlance } from '../../../../src/web/api/runs.ts';
import type { RunCard } from '../../../../src/web/api/shop.ts';
import {
  placeToGoOn,
  runsLike,
  sortedRuns,
  stageOf,
  stateWords,
} from '../../../../src/web/page/runs/run-state.ts';
import { uncutOrders } from '../../../../src/web/page/runs/uncut-orders.ts';
import { alsoIn } from '../../../../src/web/page/run/also-in.ts';
import { orderSchema } from '../../../../src/handing/order.ts';

const order = (name: string, more: object = {}) =>
  orderSchema.parse({ order: name, set: 'wren', hand: 'RHD', quantity: 1, ...more });

function card(name: string, changes: Partial<RunCard> = {}): RunCard {
  return {
    name,
    title: name,
    orders: [order('A1')],
    cutter: 'bench',
    isArchived: false,
    hasOrdersFile: false,
    isLaid: false,
    folder: null,
    cutting: { state: 'none', bites: 0, of: 0 },
    findings: [],
    changed: '2026-05-04T09:00:00.000Z',
    ...changes,
  };
}
const folder: RunCard['folder'] = {
  fingerprint: '0123456789ab',
  recutOf: null,
  parts: 3,
  lays: [{ name: 'loop', length: 4000, density: 0.8, bites: 9 }],
};
const begun: RunCard['cutting'] = { state: 'begun', bites: 2, of: 9 };
const glance = (changes: Partial<RunGlance> = {}): RunGlance => ({
  picture: null,
  unlaid: null,
  changes: [],
  ...changes,
});

describe('a run among the runs', () => {
  it('is told by what is to be done with it next', () => {
    expect(stageOf(card('a'))).toBe('to-prepare');
    expect(stageOf(card('a', { folder }))).toBe('to-cut');
    expect(stageOf(card('a', { folder, cutting: begun }))).toBe('cutting');
    const before: RunCard['cutting'] = { state: 'before', bites: 0, of: 9 };
    expect(stageOf(card('a', { folder, cutting: before }))).toBe('cutting');
    expect(uncutOrders([card('a', { folder, cutting: before })]).orders).toEqual([]);
    expect(stageOf(card('a', { folder, cutting: { state: 'cut', bites: 9, of: 9 } }))).toBe('cut');
    expect(stageOf(card('a', { folder, cutting: begun, isArchived: true }))).toBe('away');
    expect(placeToGoOn(card('a'))).toEqual(['orders', 'Open']);
    expect(placeToGoOn(card('a', { isLaid: true }))![0]).toBe('lay');
    expect(placeToGoOn(card('a', { folder }))![0]).toBe('cutting');
    expect(placeToGoOn(card('a', { folder, orders: null }))).toBeNull();
  });

  it('says what is open', () => {
    expect(stateWords(card('a'), null)).toBe('Not laid');
    expect(stateWords(card('a', { isLaid: true }), glance({ unlaid: 12 }))).toBe(
      '12 parts not laid',
    );
    expect(stateWords(card('a', { isLaid: true }), glance({ unlaid: 0 }))).toMatch(/^Laid; /);
    expect(stateWords(card('a', { folder }), glance())).toBe('Files made, not cut');
    const older = glance({ changes: ['order A1 was changed'] });
    expect(stateWords(card('a', { folder }), older)).toMatch(/^Do not cut: made before order A1/);
    expect(stateWords(card('a', { folder, cutting: begun }), older)).toMatch(/^Do not cut/);
    expect(stateWords(card('a', { folder, cutting: begun }), null)).toBe('2 of 9 bites cut');
  });

  it('is found by its orders, customers and sets, and stands where it is wanted', () => {
    const runs = [
      card('old', {
        changed: '2026-05-01T09:00:00.000Z',
        orders: [order('B', { due: '2026-05-20' })],
      }),
      card('new', { orders: [order('C7', { customer: 'Ines', due: '2026-06-01' })] }),
      card('calm', { changed: '2026-05-03T09:00:00.000Z' }),
    ];
    const names = (found: readonly RunCard[]): string[] => found.map(({ name }) => name);
    expect(names(runsLike(runs, 'ines c7'))).toEqual(['new']);
    expect(names(runsLike(runs, 'wren'))).toHaveLength(3);
    expect(names(runsLike(runs, 'nobody'))).toEqual([]);
    expect(names(sortedRuns(runs, 'changed'))).toEqual(['new', 'calm', 'old']);
    expect(names(sortedRuns(runs, 'due'))).toEqual(['old', 'new', 'calm']);
    expect(names(sortedRuns(runs, 'name'))).toEqual(['calm', 'new', 'old']);
  });

  it('gives its orders away as long as nothing of it is cut', () => {
    const runs = [
      card('a', { orders: [order('A1'), order('A2', { due: '2026-05-09' })], folder }),
      card('b', { cutting: begun, folder }),
      card('c', { isArchived: true }),
      card('d', { hasOrdersFile: true }),
      card('e', { orders: null, folder }),
    ];
    const { orders, kept } = uncutOrders(runs);
    expect(orders.map(({ run, order: one }) => `${run} ${one.order}`)).toEqual(['a A2', 'a A1']);
    expect(kept).toEqual(['d']);
  });

  it('says which of its orders another open run has too', () => {
    const own = card('own', { orders: [order('A1'), order('A2')] });
    const other = card('other', { orders: [order('A2'), order('A1', { hand: 'LHD' })] });
    expect(alsoIn(own, [own, other])).toEqual(['Order A2: also in other. Cut once.']);
    expect(alsoIn(own, [own, { ...other, isArchived: true }])).toEqual([]);
    const cut: RunCard = { ...other, cutting: { state: 'cut', bites: 9, of: 9 } };
    expect(alsoIn(own, [own, cut])).toEqual([]);
    expect(alsoIn(cut, [own, cut])).toEqual([]);
  });
});
