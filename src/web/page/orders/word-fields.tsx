import type { JSX } from 'preact';
import { noteBound, shortBound } from '../../../base/text-bounds.ts';
import { DayField, NoteField, TextField } from '../controls/fields.tsx';
import { withText } from './choices.ts';
import type { OrderFormProps } from './order-form-props.ts';

/** Whose order it is, when it is due, and what bench and customer are told. */
export function WordFields({
  order,
  onChange,
}: Pick<OrderFormProps, 'order' | 'onChange'>): JSX.Element {
  const { customer = '', due = '', benchNote = '', customerNote = '' } = order;
  const notes = benchNote + customerNote === '' ? '' : 'with notes';
  const said = [customer, due, notes].filter((one) => one !== '');
  return (
    <details class="order-more">
      <summary>
        Customer, day, notes: {said.length === 0 && 'none'}
        {said.map((one, i) => (
          <>
            {i > 0 && ', '}
            <span class="whole">{one}</span>
          </>
        ))}
      </summary>
      <div class="stack">
        <div class="row">
          <TextField
            label="Customer"
            hint="Name or number"
            value={customer}
            bound={shortBound}
            onChange={(text) => onChange(withText(order, 'customer', text))}
          />
          <DayField
            label="Due on"
            value={due}
            onChange={(text) => onChange(withText(order, 'due', text))}
          />
        </div>
        <NoteField
          label="Note for the bench"
          hint="On the sewing sheet"
          bound={noteBound}
          value={benchNote}
          onChange={(text) => onChange(withText(order, 'benchNote', text))}
        />
        <NoteField
          label="Note for the customer"
          hint="On the fitting sheet and the packing list"
          bound={noteBound}
          value={customerNote}
          onChange={(text) => onChange(withText(order, 'customerNote', text))}
        />
      </div>
    </details>
  );
}
