import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Order } from '../../../handing/order.ts';
import type { Shop } from '../../api/shop.ts';
import { Select } from '../controls/fields.tsx';
import { Swatch } from '../controls/swatch.tsx';
import { counted } from '../words.ts';
import { coloursFor } from './choices.ts';
import { lineFacts } from './order-words.ts';
import type { OrderGroup, OrderTraits, Trait } from './sorting.ts';
import { groupsBy, traits, traitsOf } from './sorting.ts';

const traitWords: Readonly<Record<Trait, string>> = {
  cloth: 'Cloth',
  quality: 'Quality',
  due: 'Due',
};

/** The orders of a run, all of them or those that are looked for, in groups if that is wanted. */
export function OrderList({
  orders,
  shop,
  at,
  onOpen,
  form,
}: {
  orders: readonly Order[];
  shop: Shop;
  /** The order that is open. */
  at: number;
  onOpen: (at: number) => void;
  form: JSX.Element;
}): JSX.Element {
  const [by, setBy] = useState<Trait | ''>('');
  const [wanted, setWanted] = useState('');
  const known = orders.map((order) => traitsOf(order, shop));
  const groups = traits.flatMap((trait) => groupsBy(trait, orders, known));
  const looked = groups.find((group) => keyOf(group) === wanted);
  const shown = (i: number): boolean =>
    i === at || looked === undefined || looked.orders.includes(i);
  const lines = (numbers: readonly number[]): JSX.Element => (
    <ol class="orders" role="list">
      {numbers.filter(shown).map((i) => (
        <li key={i} class={i === at ? 'card shown' : 'card'}>
          {i === at ? (
            form
          ) : (
            <OrderLine order={orders[i]!} shop={shop} known={known[i]!} onOpen={() => onOpen(i)} />
          )}
        </li>
      ))}
    </ol>
  );
  return (
    <>
      <Finder
        groups={groups}
        by={by}
        wanted={looked === undefined ? '' : wanted}
        all={orders.length}
        onBy={setBy}
        onWanted={setWanted}
      />
      {by === ''
        ? lines([...orders.keys()])
        : groups
            .filter((group) => group.trait === by && group.orders.some(shown))
            .map((group) => (
              <section class="order-group" aria-label={`${traitWords[by]}: ${group.value}`}>
                <h3>
                  {group.value} <span class="quiet">{countWords(group)}</span>
                </h3>
                {lines(group.orders)}
              </section>
            ))}
    </>
  );
}

function keyOf({ trait, value }: OrderGroup): string {
  return `${trait} ${value}`;
}

function countWords({ orders, sets }: OrderGroup): string {
  const count = counted(orders.length, 'order');
  return sets === orders.length ? count : `${count}, ${counted(sets, 'set')}`;
}

/** What the orders are grouped by and which of them are looked for; nothing where they are all alike. */
function Finder({
  groups,
  by,
  wanted,
  all,
  onBy,
  onWanted,
}: {
  groups: readonly OrderGroup[];
  by: Trait | '';
  wanted: string;
  /** How many orders there are. */
  all: number;
  onBy: (by: Trait | '') => void;
  onWanted: (wanted: string) => void;
}): JSX.Element | null {
  const differing = traits.filter(
    (trait) => groups.filter((group) => group.trait === trait).length > 1,
  );
  if (differing.length === 0) return null;
  return (
    <div class="row">
      <Select
        label="Group by"
        value={by}
        choices={[
          { value: '', words: 'Not grouped' },
          ...differing.map((trait) => ({ value: trait, words: traitWords[trait] })),
        ]}
        onChange={onBy}
      />
      <Select
        label="Show"
        value={wanted}
        choices={[
          { value: '', words: `All (${all})` },
          ...groups
            .filter(({ trait }) => differing.includes(trait))
            .map((group) => ({
              value: keyOf(group),
              words: `${traitWords[group.trait]}: ${group.value} (${group.orders.length})`,
            })),
        ]}
        onChange={onWanted}
      />
    </div>
  );
}

function OrderLine({
  order,
  shop,
  known,
  onOpen,
}: {
  order: Order;
  shop: Shop;
  known: OrderTraits;
  onOpen: () => void;
}): JSX.Element {
  const set = shop.sets.find(({ name }) => name === order.set);
  const colours = set === undefined ? [] : coloursFor(order, 'carpet', set, shop);
  const sample = colours.find(({ name }) => name === known.colour)?.sample ?? null;
  const facts = lineFacts(order, set, shop, known);
  return (
    <button class="order-line" onClick={onOpen}>
      <strong>
        {order.order}, {order.hand}
      </strong>
      <span>
        <Swatch sample={sample} />
        {[`${order.quantity} × ${set?.title ?? order.set}`, ...facts].join(', ')}
      </span>
    </button>
  );
}
