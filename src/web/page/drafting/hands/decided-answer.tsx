import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { TextField } from '../../controls/fields.tsx';

const reasons = [
  'it belongs to the body, which is the same for both hands',
  'it is in the vehicle with either hand',
  'the customer wants it so',
] as const;

/** It is right as it is: with a reason that is chosen or typed, which the set file keeps. */
export function DecidedAnswer({
  words,
  onAnswer,
}: {
  /** What is right as it is. */
  readonly words: string;
  readonly onAnswer: (decided: string) => void;
}): JSX.Element {
  const [isOpen, setOpen] = useState(false);
  if (!isOpen) {
    return (
      <div class="actions">
        <button class="button" onClick={() => setOpen(true)}>
          {words}
        </button>
      </div>
    );
  }
  return (
    <div class="stack" role="group" aria-label="Because">
      <p>{words}, because …</p>
      {reasons.map((one) => (
        <button class="button wide" onClick={() => onAnswer(one)}>
          … {one}
        </button>
      ))}
      <TextField
        label="… or for another reason"
        value=""
        onChange={(text) => {
          if (text !== '') onAnswer(text);
        }}
      />
    </div>
  );
}
