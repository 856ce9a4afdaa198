import type { JSX } from 'preact';
import type { Use } from '../../../pattern/words.ts';
import { Choices, Select, Tick } from '../controls/fields.tsx';
import { Swatch } from '../controls/swatch.tsx';
import { chosenFor } from '../../../handing/order-choices.ts';
import { coloursFor, withChosen, withMaterial } from './choices.ts';
import type { OrderFormProps } from './order-form-props.ts';
import { capital } from '../words.ts';

const words: Readonly<Record<Use, string>> = {
  carpet: 'carpet',
  pad: 'heel pads',
  board: 'boards',
  underlay: 'underlay',
};

/** What the order is made of: carpet, heel pads, boards and underlay, each with its material and colour. */
export function UseFields(props: OrderFormProps): JSX.Element {
  const { order, set, onChange } = props;
  return (
    <>
      <UseChoice {...props} use="carpet" />
      {set.pads.length > 0 && (
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
      {set.pads.length > 0 && order.heelPads !== 'none' && <UseChoice {...props} use="pad" />}
      {(set.hasBoards || set.hasUnderlay) && (
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
      {set.hasBoards && order.boards && <UseChoice {...props} use="board" />}
      {set.hasUnderlay && order.underlay !== false && <UseChoice {...props} use="underlay" />}
    </>
  );
}

/** More colours than these are chosen from a list that opens. */
const mostSeen = 6;

function UseChoice({
  use,
  order,
  set,
  shop,
  onChange,
}: OrderFormProps & { use: Use }): JSX.Element | null {
  const colours = coloursFor(order, use, set, shop);
  const { material = '', colour = '' } = chosenFor(order, use);
  const takeColour = (next: string): void => onChange(withChosen(order, use, { colour: next }));
  const label = `Colour of the ${words[use]}`;
  const isUnknown = colour !== '' && !colours.some(({ name }) => name === colour);
  const kept = [
    ...(isUnknown ? [{ value: colour, words: `${colour} (not kept)` }] : []),
    ...colours.map(({ name, sample }) => ({ value: name, words: name, swatch: sample })),
  ];
  // The only colour need not be said; what is said can be chosen away.
  const value = colour === '' && colours.length === 1 ? colours[0]!.name : colour;
  return (
    <>
      <MaterialSelect
        use={use}
        value={material}
        set={set}
        shop={shop}
        onChange={(next) => onChange(withMaterial(order, use, next, set, shop))}
      />
      {kept.length > 0 && kept.length <= mostSeen && (
        <Choices label={label} value={value} choices={kept} onChange={takeColour} />
      )}
      {kept.length > mostSeen && (
        <div class="with-swatch">
          <Select
            label={label}
            value={value}
            choices={[{ value: '', words: 'Not said' }, ...kept]}
            onChange={takeColour}
          />
          <Swatch sample={colours.find(({ name }) => name === value)?.sample ?? null} />
        </div>
      )}
    </>
  );
}

/** Where the set lets an order choose, the materials that fit; the usual one need not be said. */
function MaterialSelect({
  use,
  value,
  set,
  shop,
  onChange,
}: Pick<OrderFormProps, 'set' | 'shop'> & {
  use: Use;
  value: string;
  onChange: (material: string) => void;
}): JSX.Element | null {
  const titleOf = (name: string): string =>
    shop.materials.find((one) => one.name === name)?.title ?? name;
  const { usual } = set.materials[use];
  const others = shop.materials.filter(({ name, uses }) => uses.includes(use) && name !== usual);
  if (usual === null || (others.length === 0 && value === '')) return null;
  const isKnown = value === '' || others.some(({ name }) => name === value);
  return (
    <Select
      label={`${capital(words[use])} made of`}
      value={value === usual ? '' : value}
      choices={[
        { value: '', words: `Usual: ${titleOf(usual)}` },
        ...others.map(({ name, title }) => ({ value: name, words: title })),
        ...(isKnown || value === usual ? [] : [{ value, words: `${value} (does not fit)` }]),
      ]}
      onChange={onChange}
    />
  );
}
