import { heightOf, widthOf } from '../geometry/box.ts';
import type { Item } from './items.ts';
import type { Field, Spot } from './place.ts';
import { bestSpot } from './place.ts';
import { seededRandom } from './random.ts';
import type { Shifts } from './shifts.ts';
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

export interface SearchOptions {
  /** An integer; another seed searches another way. */
  readonly seed: number;
  /** Rounds, each a whole lay. */
  readonly effort: number;
  /** Asked between parts, from the second round on. */
  readonly stop: () => boolean;
  /** Told of the first lay and of each shorter one. */
  readonly progress: (attempt: Attempt, round: number) => void;
}

/** An order to lay items in, of which the first `kept` lie as they do in the best attempt. */
interface Plan {
  readonly order: readonly Item[];
  readonly kept: number;
}

/**
 * Lays the items one after another, each at its best spot, in several orders: largest first, longest
 * first, widest first, then the best order so far with one item moved or two changed over, kept
 * where that is no worse.
 */
export function search(items: readonly Item[], field: Field, options: SearchOptions): Attempt {
  const random = seededRandom(options.seed);
  const shifts = rememberedShifts();
  const starts = startOrders(items);
  let best = layOut({ order: starts[0]!, kept: 0 }, [], field, shifts, () => false)!;
  options.progress(best, 1);
  for (let round = 2; round <= options.effort; round++) {
    const start = starts[round - 1];
    const plan = start === undefined ? changed(best.order, random) : { order: start, kept: 0 };
    const attempt = plan && layOut(plan, best.spots, field, shifts, options.stop);
    if (attempt === null) break;
    if (attempt.length < best.length) options.progress(attempt, round);
    if (isNoWorse(attempt, best)) best = attempt;
  }
  return best;
}

function startOrders(items: readonly Item[]): Item[][] {
  const sizes: ((item: Item) => number)[] = [
    ({ area }) => area,
    ({ shapes }) => widthOf(shapes[0]!.box),
    ({ shapes }) => heightOf(shapes[0]!.box),
  ];
  return sizes.map((size) => [...items].sort((a, b) => size(b) - size(a)));
}

/** null where stopped on the way. */
function layOut(
  { order, kept }: Plan,
  known: readonly Spot[],
  field: Field,
  shifts: Shifts,
  stop: () => boolean,
): Attempt | null {
  const placed = known.slice(0, kept);
  for (const { shapes } of order.slice(kept)) {
    if (stop()) return null;
    placed.push(bestSpot(shapes, { field, placed, shifts }));
  }
  const ends = placed.map(({ shape, x }) => x + shape.box.maxX);
  const length = Math.max(...ends);
  return { order, spots: placed, length, meanEnd: meanEnd(order, ends) };
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
