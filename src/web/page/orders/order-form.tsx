import type { JSX } from 'preact';
import { nameBound } from '../../../base/text-bounds.ts';
import { Choices, NumberField, Select, TextField } from '../controls/fields.tsx';
import { EdgeFields } from './edge-fields.tsx';
import type { SetCard } from '../../api/shop.ts';
import type { OrderFormProps } from './order-form-props.ts';
import { OptionFields } from './option-fields.tsx';
import type { SetChange } from './set-change.ts';
import { PieceFields } from './piece-fields.tsx';
import { UseFields } from './use-fields.tsx';
import { WordFields } from './word-fields.tsx';

const orderName = /^[A-Za-z0-9]+(-[A-Za-z0-9]+)*$/;

/** The form of one order: most of it is pointed at rather than typed. Only what its set has is shown. */
export function OrderForm({
  order,
  shop,
  taken,
  setChange,
  onSet,
  onPutBack,
  onChange,
  onRemove,
}: Omit<OrderFormProps, 'set'> & {
  /** The names of the other orders. */
  readonly taken: readonly string[];
  /** What became of the order as its set was changed; null: it was not. */
  readonly setChange: SetChange | null;
  readonly onSet: (set: SetCard) => void;
  /** Makes the order again what it was before its set was changed. */
  readonly onPutBack: () => void;
  /** Takes the order out; null: it is the only one and stays. */
  readonly onRemove: (() => void) | null;
}): JSX.Element {
  const set = shop.sets.find(({ name }) => name === order.set);
  const others = new Set(taken.map((name) => name.toLowerCase()));
  const isFree = (text: string): boolean => orderName.test(text) && !others.has(text.toLowerCase());
  const sets = shop.sets.map(({ name, title }) => ({ value: name, words: title }));
  return (
    <div class="stack">
      <div class="row">
        <TextField
          label="Order"
          value={order.order}
          bound={nameBound}
          fits={isFree}
          wrongWords="Letters, digits and single hyphens, and no other order’s name."
          onChange={(name) => onChange({ ...order, order: name })}
        />
        <NumberField
          label="Sets"
          value={order.quantity}
          min={1}
          max={500}
          whole="A set is cut whole"
          onChange={(quantity) => onChange({ ...order, quantity: quantity! })}
        />
      </div>
      <Select
        label="Set"
        value={order.set}
        choices={set === undefined ? [{ value: order.set, words: order.set }, ...sets] : sets}
        onChange={(name) => onSet(shop.sets.find((one) => one.name === name)!)}
      />
      {setChange !== null && setChange.lines.length > 0 && (
        <Dropped lines={setChange.lines} onBack={onPutBack} />
      )}
      <Choices
        label="Hand of drive"
        value={order.hand}
        choices={[
          { value: 'LHD', words: 'Driver left (LHD)' },
          { value: 'RHD', words: 'Driver right (RHD)' },
        ]}
        onChange={(hand) => onChange({ ...order, hand })}
      />
      {set !== undefined && (
        <>
          <UseFields order={order} set={set} shop={shop} onChange={onChange} />
          <EdgeFields order={order} set={set} shop={shop} onChange={onChange} />
          <OptionFields order={order} set={set} shop={shop} onChange={onChange} />
          <PieceFields order={order} set={set} shop={shop} onChange={onChange} />
        </>
      )}
      <WordFields order={order} onChange={onChange} />
      {onRemove !== null && (
        <button class="button" onClick={onRemove}>
          Remove order {order.order}
        </button>
      )}
    </div>
  );
}

/** Says what an order lost with another set, and gives it back. */
function Dropped({
  lines,
  onBack,
}: Pick<SetChange, 'lines'> & { readonly onBack: () => void }): JSX.Element {
  return (
    <div class="notice stack" role="status">
      {lines.map((line) => (
        <p>{line}</p>
      ))}
      <div>
        <button class="button" onClick={onBack}>
          Put the whole order back as it was
        </button>
      </div>
    </div>
  );
}
