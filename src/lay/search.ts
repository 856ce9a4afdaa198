import { heightOf, widthOf } from '../geometry/box.ts';
import type { Item } from './items.ts';
import type { Field, Reached, Spot } from './place.ts';
import { bestSpot } from './place.ts';
import { seededRandom } from './random.ts';
import { rememberedShifts } from './shifts.ts';

/** Items in the order they were laid in, and where each came to lie. */
export interface Attempt {
  readonly order: readonly Item[];
  readonly spots: readonly Spot[];
  /** From x = 0 to the far edge of the last part, mm. */
  readonly length: number;
  /** Mean of the far edges, weighed by area, mm: of lays equally long, a crowded start leaves room. */
  readonly meanEnd: number;
}

/** Where a search stands: one is yielded after every part that is laid. */
export interface SearchState {
  /** null until every item lies somewhere. */
  readonly best: Attempt | null;
  /** Rounds finished. */
  readonly rounds: number;
}

/** An order to lay items in, of which the first `kept` lie as they do in the best attempt. */
interface Plan {
  readonly order: readonly Item[];
  readonly kept: number;
}

/**
 * Lays the items one after another, each at its best spot, in several orders: largest first, longest
 * first, widest first, then the best order so far with one item moved or two changed over, kept
 * where that is no worse. Goes on for as long as it is asked, and ends by itself only where all items
 * are alike. The same seed (an integer) goes the same way.
 */
export function* search(
  items: readonly Item[],
  field: Field,
  seed: number,
): Generator<SearchState> {
  const random = seededRandom(seed);
  const shifts = rememberedShifts();
  const starts = startOrders(items);
  let best: Attempt | null = null;
  for (let rounds = 0; ; rounds++) {
    const plan = planOf(starts[rounds], best, random);
    if (plan === null) return;
    const spots = best === null ? [] : best.spots.slice(0, plan.kept);
    const reached: Reached = new Map();
    for (const { shapes } of plan.order.slice(plan.kept)) {
      spots.push(bestSpot(shapes, { field, placed: spots, shifts, reached }));
      if (spots.length < items.length) yield { best, rounds };
    }
    const attempt = attemptOf(plan.order, spots);
    if (best === null || isNoWorse(attempt, best)) best = attempt;
    yield { best, rounds: rounds + 1 };
  }
}

/** null where no other order is worth trying. */
function planOf(
  start: readonly Item[] | undefined,
  best: Attempt | null,
  random: () => number,
): Plan | null {
  if (start !== undefined) return { order: start, kept: 0 };
  return best === null ? null : changed(best.order, random);
}

function attemptOf(order: readonly Item[], spots: readonly Spot[]): Attempt {
  const ends = spots.map(({ shape, x }) => x + shape.box.maxX);
  return { order, spots, length: Math.max(...ends), meanEnd: meanEnd(order, ends) };
}

function startOrders(items: readonly Item[]): Item[][] {
  const sizes: ((item: Item) => number)[] = [
    ({ area }) => area,
    ({ shapes }) => widthOf(shapes[0]!.box),
    ({ shapes }) => heightOf(shapes[0]!.box),
  ];
  return sizes.map((size) => [...items].sort((a, b) => size(b) - size(a)));
}

function meanEnd(order: readonly Item[], ends: readonly number[]): number {
  const area = order.reduce((sum, item) => sum + item.area, 0);
  return order.reduce((sum, item, i) => sum + item.area * ends[i]!, 0) / area;
}

function isNoWorse(a: Attempt, b: Attempt): boolean {
  return a.length < b.length || (a.length === b.length && a.meanEnd <= b.meanEnd);
}

/** One item put before another, or both changed over; null where all are alike. */
function changed(order: readonly Item[], random: () => number): Plan | null {
  const pick = (from: readonly number[]): number => from[Math.floor(random() * from.length)]!;
  const indexes = order.map((_, i) => i);
  const one = pick(indexes);
  const others = indexes.filter((i) => order[i]!.shapes !== order[one]!.shapes);
  if (others.length === 0) return null;
  const other = pick(others);
  const [low, high] = one < other ? [one, other] : [other, one];
  const swap = random() < 0.5;
  const between = order.slice(low + 1, high);
  const middle = swap ? [...between, order[low]!] : [order[low]!, ...between];
  const next = [...order.slice(0, low), order[high]!, ...middle, ...order.slice(high + 1)];
  return { order: next, kept: low };
}
