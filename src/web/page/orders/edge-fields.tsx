import type { JSX } from 'preact';
import { shortBound } from '../../../base/text-bounds.ts';
import { Select, TextField } from '../controls/fields.tsx';
import { edgeColour, withEdge, withText } from './choices.ts';
import type { OrderFormProps } from './order-form-props.ts';

/** How edges are finished, in which colour, and with what thread. */
export function EdgeFields({ order, set, shop, onChange }: OrderFormProps): JSX.Element {
  const finish = order.edge?.finish ?? '';
  const colour = edgeColour(order);
  const titleOf = (name: string): string =>
    shop.finishes.find((one) => one.name === name)?.title ?? name;
  const others = shop.finishes.filter(({ name }) => name !== set.finish);
  const isKnown = finish === '' || shop.finishes.some(({ name }) => name === finish);
  const coloursOf = (name: string): readonly string[] | null =>
    name === '' ? set.colours : (shop.finishes.find((one) => one.name === name)?.colours ?? null);
  const colours = coloursOf(finish);
  const takeFinish = (next: string): void => {
    const kept = coloursOf(next);
    onChange(withEdge(order, next, kept === null || kept.includes(colour) ? colour : ''));
  };
  return (
    <>
      {set.finish !== null && (others.length > 0 || finish !== '') && (
        <Select
          label="Edges finished with"
          value={finish === set.finish ? '' : finish}
          choices={[
            { value: '', words: `Usual: ${titleOf(set.finish)}` },
            ...others.map(({ name, title }) => ({ value: name, words: title })),
            ...(isKnown ? [] : [{ value: finish, words: `${finish} (not in the shop)` }]),
          ]}
          onChange={takeFinish}
        />
      )}
      <div class="row">
        {colours === null ? (
          <TextField
            label="Binding"
            hint="Colour of the tape"
            value={colour}
            bound={shortBound}
            onChange={(next) => onChange(withEdge(order, finish, next))}
          />
        ) : (
          <Select
            label="Binding"
            hint="Colour of the tape"
            value={colour}
            choices={[
              { value: '', words: 'Not said' },
              ...colours.map((one) => ({ value: one, words: one })),
            ]}
            onChange={(next) => onChange(withEdge(order, finish, next))}
          />
        )}
        <TextField
          label="Thread"
          hint="Colour of the stitches"
          value={order.thread ?? ''}
          bound={shortBound}
          onChange={(thread) => onChange(withText(order, 'thread', thread))}
        />
      </div>
    </>
  );
}
