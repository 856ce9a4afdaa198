import type { Order } from '../../../handing/order.ts';
import type { RollEntry, RunContent } from '../../../run/run-file.ts';
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

/** All that an order says of the parts of one set: those that say the same make the same parts. */
function makingOf(order: Order): string {
  const { quantity: _, binding: __, thread: ___, customer: ____, due: _____, ...others } = order;
  const { benchNote: ______, customerNote: _______, edge, ...making } = others;
  return JSON.stringify([edge?.finish ?? null, ...Object.entries(making).sort()]);
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
 * The run with an order changed. Where its parts become others, what was pinned or laid of them is let
 * go; where it only becomes more or fewer sets, the rest stays.
 */
export function withOrder(content: RunContent, at: number, next: Order): RunContent {
  const before = content.orders[at]!;
  const orders = content.orders.map((order, i) => (i === at ? next : order));
  const kept = makingOf(before) === makingOf(next) ? next.quantity : 0;
  return { ...content, orders, rolls: withoutParts(content.rolls, before.order, kept) };
}

export function withoutOrder(content: RunContent, at: number): RunContent {
  const orders = content.orders.filter((_, i) => i !== at);
  return { ...content, orders, rolls: withoutParts(content.rolls, content.orders[at]!.order, 0) };
}

/**
 * The rolls without the parts of an order that lie on them, except those of its first so many sets.
 */
function withoutParts(
  rolls: RunContent['rolls'],
  order: string,
  sets: number,
): RunContent['rolls'] {
  const stays = ({ part }: { readonly part: string }): boolean => {
    // A label is name.set.order.
    const [, set, own] = /^.*\.(\d+)\.([^.]+)$/.exec(part) ?? [];
    return own !== order || Number(set) <= sets;
  };
  type Sheets = RunContent['rolls'][string];
  const lean = (roll: RollEntry): RollEntry => ({
    ...roll,
    pins: roll.pins.filter(stays),
    laid: roll.laid.filter(stays),
  });
  return Object.fromEntries(
    Object.entries(rolls).map(([material, roll]): [string, Sheets] => [
      material,
      Array.isArray(roll) ? roll.map(lean) : lean(roll),
    ]),
  );
}
