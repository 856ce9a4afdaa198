import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Choices } from '../../controls/fields.tsx';
import { calls } from '../../server/calls.ts';
import { useLoaded } from '../../use-loaded.ts';
import { HandPictures } from './hand-pictures.tsx';

const follows = [
  { value: '', words: 'nobody: it stays with the piece' },
  { value: 'DRIVER', words: 'the driver' },
  { value: 'PASSENGER', words: 'the passenger' },
  { value: 'LEFT', words: 'the left side' },
  { value: 'RIGHT', words: 'the right side' },
] as const;

/** ROLE-FOLLOWS with options, in its parts. */
interface Parts {
  readonly role: string;
  readonly person: (typeof follows)[number]['value'];
  readonly options: string;
}

/** What a meaning says of whom it follows. */
export function partsOfMeaning(means: string): Parts {
  const [role = '', ...words] = means.split('-');
  const person = follows.find(({ value }) => value === words[0])?.value ?? '';
  return { role, person, options: (person === '' ? words : words.slice(1)).join('-') };
}

export function meaningOfParts({ role, person, options }: Parts): string {
  return [role, person, options].filter((one) => one !== '').join('-');
}

/** Whom things follow, with a picture of both hands that shows each answer before it is given. */
export function GoesWith({
  set,
  version,
  piece,
  things,
  means,
  onChoose,
}: {
  readonly set: string;
  readonly version: string;
  readonly piece: string;
  readonly things: readonly number[];
  readonly means: string;
  readonly onChoose: (means: string) => void;
}): JSX.Element {
  const parts = partsOfMeaning(means);
  const meaningFor = (person: Parts['person']): string => meaningOfParts({ ...parts, person });
  const [pointed, setPointed] = useState<Parts['person'] | null>(null);
  useEffect(() => setPointed(null), [means, piece, things.join()]);
  const asked = {
    piece,
    things: [...things],
    meanings: follows.map(({ value }) => meaningFor(value)),
  };
  const { value } = useLoaded(
    () => calls.draftHands(set, asked),
    [set, version, piece, things.join(), means],
  );
  const shown = meaningFor(pointed ?? parts.person);
  const both = value?.hands.find((one) => one.means === shown);
  return (
    <div class="goes-with">
      <Choices
        label="It goes with"
        value={parts.person}
        choices={follows}
        onChange={(person) => onChoose(meaningFor(person))}
        onPoint={setPointed}
      />
      {both !== undefined && <HandPictures both={both} />}
    </div>
  );
}
