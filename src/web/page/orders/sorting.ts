import type { Order } from '../../../handing/order.ts';
import type { Shop } from '../../api/shop.ts';
import { chosenFor } from '../../../handing/order-choices.ts';
import { coloursFor, materialsFor } from './choices.ts';

/** What orders are grouped and looked for by. */
export const traits = ['cloth', 'quality', 'due'] as const;
export type Trait = (typeof traits)[number];

/** What can be said of an order by each trait, in words, and the colour of its carpet; null: it has none. */
export type OrderTraits = Readonly<Record<Trait, string>> & { readonly colour: string | null };

/** Said of an order that is not due on any day; as letters have it, it comes behind all days. */
const noDay = 'no day';

/** What the carpet of an order is, in which colour, and the day on which it is due. */
export function traitsOf(order: Order, shop: Shop): OrderTraits {
  const set = shop.sets.find(({ name }) => name === order.set);
  const materials = set === undefined ? [] : materialsFor(order, 'carpet', set, shop);
  const colours = set === undefined ? [] : coloursFor(order, 'carpet', set, shop);
  const silent = colours.length === 0 ? null : 'colour not said';
  const only = colours.length === 1 ? colours[0]!.name : silent;
  const colour = chosenFor(order, 'carpet').colour ?? only;
  const quality = materials.map(({ title }) => title).join(', ') || 'not known';
  return {
    colour,
    cloth: colour === null ? quality : `${quality}, ${colour}`,
    quality,
    due: order.due ?? noDay,
  };
}

/** Orders that have the same value of a trait: their numbers in the run, and how many sets they are. */
export interface OrderGroup {
  readonly trait: Trait;
  readonly value: string;
  readonly orders: readonly number[];
  readonly sets: number;
}

/** The orders by a trait: days in their order with no day last, other values as letters have it. */
export function groupsBy(
  trait: Trait,
  orders: readonly Order[],
  known: readonly OrderTraits[],
): OrderGroup[] {
  return [...new Set(known.map((one) => one[trait]))].sort().map((value) => {
    const own = [...known.keys()].filter((i) => known[i]![trait] === value);
    const sets = own.reduce((sum, i) => sum + orders[i]!.quantity, 0);
    return { trait, value, orders: own, sets };
  });
}
