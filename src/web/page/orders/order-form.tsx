import type { JSX } from 'preact';
import type { Order } from '../../../handing/order.ts';
import type { Shop } from '../../api/shop.ts';
import { Choices, NumberField, Select, TextField, Tick } from '../controls/fields.tsx';

const orderName = /^[A-Za-z0-9]+(-[A-Za-z0-9]+)*$/;

/** The form of one order: most of it is pointed at rather than typed. */
export function OrderForm({
  order,
  shop,
  taken,
  onChange,
  onRemove,
}: {
  order: Order;
  shop: Shop;
  /** The names of the other orders. */
  taken: readonly string[];
  onChange: (order: Order) => void;
  /** Takes the order out; null: it is the only one and stays. */
  onRemove: (() => void) | null;
}): JSX.Element {
  const set = shop.sets.find(({ name }) => name === order.set);
  const colours = set?.colours ?? null;
  const isFree = (text: string): boolean => orderName.test(text) && !taken.includes(text);
  const sets = shop.sets.map(({ name, title }) => ({ value: name, words: title }));
  return (
    <div class="stack">
      <div class="row">
        <TextField
          label="Order"
          value={order.order}
          fits={isFree}
          wrongWords="Letters, digits and single hyphens, and no other order’s name."
          onChange={(name) => onChange({ ...order, order: name })}
        />
        <NumberField
          label="Sets"
          value={order.quantity}
          min={1}
          max={500}
          onChange={(quantity) => onChange({ ...order, quantity: Math.round(quantity!) })}
        />
      </div>
      <Select
        label="Set"
        value={order.set}
        choices={set === undefined ? [{ value: order.set, words: order.set }, ...sets] : sets}
        onChange={(name) => onChange(withSet(order, name, shop))}
      />
      <Choices
        label="Hand of drive"
        value={order.hand}
        choices={[
          { value: 'LHD', words: 'Driver left (LHD)' },
          { value: 'RHD', words: 'Driver right (RHD)' },
        ]}
        onChange={(hand) => onChange({ ...order, hand })}
      />
      {set?.hasPads !== false && (
        <Choices
          label="Heel pads"
          value={order.heelPads}
          choices={[
            { value: 'driver', words: 'Driver' },
            { value: 'both', words: 'Both sides' },
            { value: 'none', words: 'None' },
          ]}
          onChange={(heelPads) => onChange({ ...order, heelPads })}
        />
      )}
      {(set?.hasBoards === true || set?.hasUnderlay === true) && (
        <div class="row">
          {set.hasBoards && (
            <Tick
              label="With boards"
              checked={order.boards}
              onChange={(boards) => onChange({ ...order, boards })}
            />
          )}
          {set.hasUnderlay && (
            <Tick
              label="With underlay"
              checked={order.underlay !== false}
              onChange={(underlay) => onChange({ ...order, underlay })}
            />
          )}
        </div>
      )}
      <Binding order={order} colours={colours} onChange={onChange} />
      {onRemove !== null && (
        <button class="button" onClick={onRemove}>
          Remove order {order.order}
        </button>
      )}
    </div>
  );
}

function withSet(order: Order, set: string, { sets }: Shop): Order {
  const { binding, ...others } = order;
  const colours = sets.find(({ name }) => name === set)?.colours ?? null;
  const fits = colours === null || (binding !== undefined && colours.includes(binding));
  if (fits) return { ...order, set };
  return { ...others, set, ...(colours[0] === undefined ? {} : { binding: colours[0] }) };
}

function Binding({
  order,
  colours,
  onChange,
}: {
  order: Order;
  colours: readonly string[] | null;
  onChange: (order: Order) => void;
}): JSX.Element {
  const take = (colour: string): void => {
    const { binding: _, ...others } = order;
    onChange(colour === '' ? others : { ...order, binding: colour });
  };
  if (colours === null) {
    return (
      <TextField
        label="Binding"
        hint="Colour of the tape"
        value={order.binding ?? ''}
        onChange={take}
      />
    );
  }
  return (
    <Select
      label="Binding"
      value={order.binding ?? ''}
      choices={[
        { value: '', words: 'Not said' },
        ...colours.map((colour) => ({ value: colour, words: colour })),
      ]}
      onChange={take}
    />
  );
}
