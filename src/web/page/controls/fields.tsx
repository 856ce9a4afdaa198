import type { JSX, TargetedKeyboardEvent } from 'preact';
import { useEffect, useId, useState } from 'preact/hooks';
import { Swatch } from './swatch.tsx';

interface FieldProps {
  readonly label: string;
  readonly hint?: string;
}

/**
 * A field for a number. A text that is no number, or is out of bounds, is marked and not taken. While
 * somebody types, the text stays as it is whatever else happens on the page; it is taken when the field
 * is left.
 */
export function NumberField({
  label,
  hint,
  value,
  unit,
  min,
  max,
  optional = false,
  onChange,
}: FieldProps & {
  readonly value: number | null;
  readonly unit?: string;
  readonly min: number;
  readonly max: number;
  /** Whether the field may be left empty, which means that the number is not said. */
  readonly optional?: boolean;
  readonly onChange: (value: number | null) => void;
}): JSX.Element {
  const id = useId();
  const [text, setText] = useState(worded(value));
  const [wrong, setWrong] = useState('');
  useEffect(() => {
    setText(worded(value));
    setWrong('');
  }, [value]);
  const take = (typed: string): void => {
    setText(typed);
    const trimmed = typed.trim().replace(',', '.');
    if (trimmed === '' && optional) {
      setWrong('');
      return onChange(null);
    }
    const number = Number(trimmed);
    if (trimmed === '' || !Number.isFinite(number) || number < min || number > max) {
      return setWrong(`A number from ${min} to ${max}${unit === undefined ? '' : ` ${unit}`}.`);
    }
    setWrong('');
    onChange(number);
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <span class="with-unit">
        <input
          id={id}
          inputMode="decimal"
          autocomplete="off"
          value={text}
          aria-invalid={wrong !== ''}
          aria-describedby={`${id}-hint`}
          onInput={(event) => setText(event.currentTarget.value)}
          onChange={(event) => take(event.currentTarget.value)}
        />
        {unit !== undefined && <span aria-hidden="true">{unit}</span>}
      </span>
      <small id={`${id}-hint`} class={wrong === '' ? '' : 'wrong'}>
        {wrong === '' ? (hint ?? '') : wrong}
      </small>
    </div>
  );
}

function worded(value: number | null): string {
  return value === null ? '' : String(Math.round(value * 1000) / 1000);
}

/**
 * What is typed into a field, until another value comes in: without it whatever is drawn anew meanwhile
 * would put the old value in its place.
 */
function useTyped(value: string): { text: string; setText: (text: string) => void } {
  const [text, setText] = useState(value);
  useEffect(() => setText(value), [value]);
  return { text, setText };
}

export function TextField({
  label,
  hint,
  value,
  fits = () => true,
  wrongWords = '',
  onChange,
}: FieldProps & {
  readonly value: string;
  /** Says whether a text is taken; left out: any text is. */
  readonly fits?: (text: string) => boolean;
  readonly wrongWords?: string;
  readonly onChange: (value: string) => void;
}): JSX.Element {
  const id = useId();
  const { text, setText } = useTyped(value);
  const [isWrong, setWrong] = useState(false);
  useEffect(() => setWrong(false), [value]);
  const take = (typed: string): void => {
    setText(typed);
    const isFit = fits(typed.trim());
    setWrong(!isFit);
    if (isFit) onChange(typed.trim());
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        value={text}
        autocomplete="off"
        aria-invalid={isWrong}
        aria-describedby={`${id}-hint`}
        onInput={(event) => setText(event.currentTarget.value)}
        onChange={(event) => take(event.currentTarget.value)}
      />
      <small id={`${id}-hint`} class={isWrong ? 'wrong' : ''}>
        {isWrong ? wrongWords : (hint ?? '')}
      </small>
    </div>
  );
}

export interface Option<T extends string> {
  readonly value: T;
  readonly words: string;
  /** A colour that is shown before the words. */
  readonly swatch?: string | null;
}

const arrowSteps: Readonly<Record<string, 1 | -1>> = {
  ArrowDown: 1,
  ArrowRight: 1,
  ArrowUp: -1,
  ArrowLeft: -1,
};

/** Arrow keys go from choice to choice and choose none on the way: each would be taken at once. */
function walkChoices(event: TargetedKeyboardEvent<HTMLDivElement>): void {
  const { key, target, currentTarget } = event;
  if (!(target instanceof HTMLInputElement)) return;
  if (key === 'Enter' && target.form === null) return target.click();
  const step = arrowSteps[key];
  if (step === undefined) return;
  event.preventDefault();
  const all = [...currentTarget.querySelectorAll('input')];
  all[(all.indexOf(target) + step + all.length) % all.length]!.focus();
}

/** A few choices, all of them seen at once; Space takes one. */
export function Choices<T extends string>({
  label,
  value,
  choices,
  onChange,
  onPoint = () => {},
}: FieldProps & {
  /** Empty: none is chosen yet. */
  readonly value: T | '';
  readonly choices: readonly Option<T>[];
  readonly onChange: (value: T) => void;
  /** A choice is pointed at; null: none is any more. */
  readonly onPoint?: (value: T | null) => void;
}): JSX.Element {
  const name = useId();
  return (
    <fieldset class="choices">
      <legend>{label}</legend>
      <div onKeyDown={walkChoices}>
        {choices.map((choice) => (
          <label
            class={choice.value === value ? 'chosen' : ''}
            onPointerEnter={() => onPoint(choice.value)}
            onPointerLeave={() => onPoint(null)}
          >
            <input
              type="radio"
              name={name}
              checked={choice.value === value}
              onChange={() => onChange(choice.value)}
              onFocus={() => onPoint(choice.value)}
              onBlur={() => onPoint(null)}
            />
            <span>
              <Swatch sample={choice.swatch ?? null} />
              {choice.words}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** Many choices in a list that opens; only the chosen one is seen. */
export function Select<T extends string>({
  label,
  hint,
  value,
  choices,
  onChange,
}: FieldProps & {
  readonly value: T;
  readonly choices: readonly Option<T>[];
  readonly onChange: (value: T) => void;
}): JSX.Element {
  const id = useId();
  const take = (text: string): void => {
    const choice = choices.find((one) => one.value === text);
    if (choice !== undefined) onChange(choice.value);
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => take(event.currentTarget.value)}>
        {choices.map((choice) => (
          <option value={choice.value} selected={choice.value === value}>
            {choice.words}
          </option>
        ))}
      </select>
      {hint !== undefined && <small>{hint}</small>}
    </div>
  );
}

export function Tick({
  label,
  checked,
  disabled = false,
  onChange,
}: {
  readonly label: string;
  readonly checked: boolean;
  readonly disabled?: boolean;
  readonly onChange: (checked: boolean) => void;
}): JSX.Element {
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={checked}
        disabled={disabled}
        onChange={(event) => onChange(event.currentTarget.checked)}
      />
      <span>{label}</span>
    </label>
  );
}

/** A day, chosen from a calendar or typed; empty: it is not said. */
export function DayField({
  label,
  value,
  onChange,
}: FieldProps & {
  /** Like `2026-12-04`, or empty; so is what `onChange` is given. */
  readonly value: string;
  readonly onChange: (value: string) => void;
}): JSX.Element {
  const id = useId();
  const { text, setText } = useTyped(value);
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="date"
        value={text}
        onInput={(event) => setText(event.currentTarget.value)}
        onChange={(event) => onChange(event.currentTarget.value)}
      />
    </div>
  );
}

/** A note of a few sentences. */
export function NoteField({
  label,
  hint,
  value,
  most,
  onChange,
}: FieldProps & {
  readonly value: string;
  /** How many letters it may have. */
  readonly most: number;
  readonly onChange: (value: string) => void;
}): JSX.Element {
  const id = useId();
  const { text, setText } = useTyped(value);
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <textarea
        id={id}
        rows={2}
        maxLength={most}
        value={text}
        aria-describedby={`${id}-hint`}
        onInput={(event) => setText(event.currentTarget.value)}
        onChange={(event) => onChange(event.currentTarget.value.trim())}
      />
      <small id={`${id}-hint`}>{hint ?? ''}</small>
    </div>
  );
}
