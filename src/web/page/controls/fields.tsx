import type { JSX, TargetedKeyboardEvent } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import type { TextBound } from '../../../base/text-bounds.ts';
import { cutShort } from '../../../base/wording.ts';
import type { Measure, NumberReading, WrongNumber } from './read-number.ts';
import { numberWords, readNumber, shownNumber, takesUnits } from './read-number.ts';
import { Swatch } from './swatch.tsx';

interface FieldProps {
  readonly label: string;
  readonly hint?: string;
}

/** What stands below a field: a hint, or why its text is not taken and what holds meanwhile. */
function BelowField({
  id,
  hint = '',
  why,
  holds,
  offers = [],
}: {
  readonly id: string;
  readonly hint?: string;
  /** null: nothing is wrong. */
  readonly why: string | null;
  /** The last good value in words, empty if there is none. */
  readonly holds: string;
  readonly offers?: readonly { readonly words: string; readonly onTake: () => void }[];
}): JSX.Element {
  const still = holds === '' ? 'Nothing is taken yet.' : `${holds} still holds.`;
  return (
    <>
      <small id={`${id}-hint`} class={why === null ? '' : 'wrong'} aria-live="polite">
        {why === null ? hint : `${why} ${still}`}
      </small>
      {offers.length > 0 && (
        <span class="offers">
          {offers.map(({ words, onTake }) => (
            <button class="button" type="button" onClick={onTake}>
              {words}
            </button>
          ))}
        </span>
      )}
    </>
  );
}

/**
 * A field for a number. A text that is no number, or is out of bounds, stays in it with the reason below
 * and is not taken; where it can be read in two ways it is asked which. While somebody types, the text
 * stays as it is whatever else happens on the page; it is taken when the field is left.
 */
export function NumberField({
  label,
  hint,
  value,
  optional = false,
  onChange,
  ...measure
}: FieldProps &
  Measure & {
    readonly value: number | null;
    /** Whether the field may be left empty, which means that the number is not said. */
    readonly optional?: boolean;
    readonly onChange: (value: number | null) => void;
  }): JSX.Element {
  const id = useId();
  const { unit } = measure;
  const { text, setText } = useTyped(shownNumber(value));
  const input = useRef<HTMLInputElement>(null);
  const [wrong, setWrong] = useState<WrongNumber | null>(null);
  useEffect(() => setWrong(null), [value]);
  const take = (reading: NumberReading | { readonly value: null }): void => {
    if (!('value' in reading)) return setWrong(reading);
    setWrong(null);
    setText(shownNumber(reading.value));
    onChange(reading.value);
  };
  const offers = (wrong?.offers ?? []).map(({ words, reading }) => ({
    words,
    onTake: () => {
      // The button goes away, and whoever pressed it by keyboard must not be lost.
      input.current!.focus();
      take(reading);
    },
  }));
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <span class="with-unit">
        <input
          ref={input}
          id={id}
          inputMode={takesUnits(measure) ? 'text' : 'decimal'}
          autocomplete="off"
          value={text}
          aria-invalid={wrong !== null}
          aria-describedby={unit === undefined ? `${id}-hint` : `${id}-unit ${id}-hint`}
          onInput={(event) => setText(event.currentTarget.value)}
          onChange={({ currentTarget: { value: typed } }) => {
            setText(typed);
            take(optional && typed.trim() === '' ? { value: null } : readNumber(typed, measure));
          }}
        />
        {unit !== undefined && (
          <span id={`${id}-unit`} aria-hidden="true">
            {unit}
          </span>
        )}
      </span>
      <BelowField
        id={id}
        hint={hint}
        why={wrong?.why ?? null}
        holds={value === null ? '' : numberWords(value, unit)}
        offers={offers}
      />
    </div>
  );
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

/** Why a text is not taken, where it is too long; null: it is not. */
function tooLong(text: string, bound: TextBound | undefined): string | null {
  const letters = text.trim().length;
  if (bound === undefined || letters <= bound.most) return null;
  return `${letters} letters: ${bound.why}.`;
}

export function TextField({
  label,
  hint,
  value,
  bound,
  fits = () => true,
  wrongWords = '',
  onChange,
}: FieldProps & {
  readonly value: string;
  /** Left out: a text may have any length, as far as `fits` takes it. */
  readonly bound?: TextBound;
  /** Says whether a text is taken; left out: any text is. */
  readonly fits?: (text: string) => boolean;
  readonly wrongWords?: string;
  readonly onChange: (value: string) => void;
}): JSX.Element {
  const id = useId();
  const { text, setText } = useTyped(value);
  const [isUnfit, setUnfit] = useState(false);
  useEffect(() => setUnfit(false), [value]);
  const why = tooLong(text, bound) ?? (isUnfit ? wrongWords : null);
  const take = (typed: string): void => {
    setText(typed);
    const isFit = fits(typed.trim());
    setUnfit(!isFit);
    if (isFit && tooLong(typed, bound) === null) onChange(typed.trim());
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        value={text}
        autocomplete="off"
        aria-invalid={why !== null}
        aria-describedby={`${id}-hint`}
        onInput={(event) => setText(event.currentTarget.value)}
        onChange={(event) => take(event.currentTarget.value)}
      />
      <BelowField id={id} hint={hint} why={why} holds={quoted(value)} />
    </div>
  );
}

function quoted(text: string): string {
  return text === '' ? '' : `“${cutShort(text, 40)}”`;
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
  bound,
  onChange,
}: FieldProps & {
  readonly value: string;
  readonly bound: TextBound;
  readonly onChange: (value: string) => void;
}): JSX.Element {
  const id = useId();
  const { text, setText } = useTyped(value);
  const why = tooLong(text, bound);
  const take = (typed: string): void => {
    setText(typed);
    if (tooLong(typed, bound) === null) onChange(typed.trim());
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <textarea
        id={id}
        rows={2}
        value={text}
        aria-invalid={why !== null}
        aria-describedby={`${id}-hint`}
        onInput={(event) => setText(event.currentTarget.value)}
        onChange={(event) => take(event.currentTarget.value)}
      />
      <BelowField id={id} hint={hint} why={why} holds={quoted(value)} />
    </div>
  );
}
