import type { Order } from '../../../handing/order.ts';
import type { Pin, RollEntry, RunContent } from '../../../run/run-file.ts';
import type { SetCard } from '../../api/shop.ts';

/**
 * A name for a new order that no order of the run has: the name of the last one, with the number at its
 * end counted on.
 */
export function nextOrderName({ orders }: RunContent): string {
  const taken = new Set(orders.map(({ order }) => order));
  const [, stem = '', digits = '0'] = /^(.*?)(\d*)$/.exec(orders.at(-1)?.order ?? '') ?? [];
  let number = Number(digits);
  let name: string;
  do {
    number += 1;
    name = `${stem}${String(number).padStart(digits.length, '0')}`;
  } while (taken.has(name));
  return name;
}

/** What an order says that makes no other part of the set. */
const makesNone: ReadonlySet<string> = new Set<keyof Order>([
  'order',
  'quantity',
  'binding',
  'thread',
  'customer',
  'due',
  'benchNote',
  'customerNote',
  'edge',
]);

/** All that an order says of the parts of one set: those that say the same make the same parts. */
function makingOf(order: Order): string {
  const making = Object.entries(order).filter(([key]) => !makesNone.has(key));
  return JSON.stringify([order.edge?.finish ?? null, ...making.sort()]);
}

/** The set of an order and what its parts are cut from, as far as the order says it. */
function clothsOf({ set, carpet, pad, board, underlay }: Order): string {
  const own = typeof underlay === 'object' ? underlay : null;
  return JSON.stringify([set, carpet ?? null, pad ?? null, board ?? null, own]);
}

/** A new order of the set and for the hand of the last one of the run. It says nothing else yet. */
export function freshOrder(content: RunContent): Order {
  const { set, hand } = content.orders.at(-1)!;
  return silentOrder(nextOrderName(content), set, hand);
}

/** The first order of a new run: of a set, for the hand that it is drawn for. It says nothing else yet. */
export function firstOrder({ name, drawn }: Pick<SetCard, 'name' | 'drawn'>): Order {
  return silentOrder('1', name, drawn);
}

/** An order that says what it must and nothing else. */
function silentOrder(order: string, set: string, hand: Order['hand']): Order {
  return { order, set, hand, quantity: 1, heelPads: 'driver', boards: true, underlay: true };
}

/**
 * The run with an order changed. Its parts stay where they lie, under the order's new name; those of sets that it
 * has no more are let go, and all of them if it is of another set or of other cloths. If its parts may be others now, none is pinned
 * any more: what no longer fits is laid anew.
 */
export function withOrder(content: RunContent, at: number, next: Order): RunContent {
  const before = content.orders[at]!;
  const orders = content.orders.map((order, i) => (i === at ? next : order));
  const kept = clothsOf(before) === clothsOf(next) ? next.quantity : 0;
  const isOther = makingOf(before) !== makingOf(next);
  const rolls = withRollsEach(content.rolls, (roll) => {
    const pins = movedTo(roll.pins, before.order, next.order, kept);
    const laid = movedTo(roll.laid, before.order, next.order, kept);
    if (!isOther) return { ...roll, pins, laid };
    const isOwn = ({ part }: Pin): boolean => part.endsWith(`.${next.order}`);
    return {
      ...roll,
      pins: pins.filter((pin) => !isOwn(pin)),
      laid: [...laid, ...pins.filter(isOwn)],
    };
  });
  return { ...content, orders, rolls };
}

export function withoutOrder(content: RunContent, at: number): RunContent {
  const { order } = content.orders[at]!;
  const orders = content.orders.filter((_, i) => i !== at);
  const rolls = withRollsEach(content.rolls, (roll) => ({
    ...roll,
    pins: movedTo(roll.pins, order, order, 0),
    laid: movedTo(roll.laid, order, order, 0),
  }));
  return { ...content, orders, rolls };
}

/** Parts where they lie: those of one order under its new name, and without its sets past the first so many. */
function movedTo(pins: readonly Pin[], from: string, to: string, sets: number): Pin[] {
  return pins.flatMap((pin) => {
    // A label is name.set.order.
    const [, name, set, own] = /^(.*)\.(\d+)\.([^.]+)$/.exec(pin.part) ?? [];
    if (own !== from) return [pin];
    return Number(set) <= sets ? [{ ...pin, part: `${name}.${set}.${to}` }] : [];
  });
}

type Sheets = RunContent['rolls'][string];

function withRollsEach(
  rolls: RunContent['rolls'],
  change: (roll: RollEntry) => RollEntry,
): RunContent['rolls'] {
  return Object.fromEntries(
    Object.entries(rolls).map(([material, roll]): [string, Sheets] => [
      material,
      Array.isArray(roll) ? roll.map(change) : change(roll),
    ]),
  );
}
