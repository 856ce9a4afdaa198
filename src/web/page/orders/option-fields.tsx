import type { JSX } from 'preact';
import type { OptionCard } from '../../api/shop.ts';
import { Choices } from '../controls/fields.tsx';
import { optionValue, withOption } from './choices.ts';
import type { OrderFormProps } from './order-form-props.ts';
import { capital } from '../words.ts';

/** What the vehicle may have, each with what is usual. */
export function OptionFields({ order, set, onChange }: OrderFormProps): JSX.Element {
  return (
    <>
      {set.options.map((option) => (
        <Choices
          label={capital(option.words)}
          value={String(optionValue(order, option))}
          choices={valuesOf(option).map((value) => ({
            value: String(value),
            words: wordValue(value, option),
          }))}
          onChange={(text) => {
            const value = valuesOf(option).find((one) => String(one) === text)!;
            onChange(withOption(order, option, value));
          }}
        />
      ))}
    </>
  );
}

function valuesOf({ values }: OptionCard): readonly OptionCard['usual'][] {
  return values ?? [true, false];
}

function wordValue(value: OptionCard['usual'], { usual }: OptionCard): string {
  const word = typeof value === 'string' ? value : value ? 'Yes' : 'No';
  return value === usual ? `${word} (usual)` : word;
}
