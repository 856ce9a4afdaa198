import type { JSX } from 'preact';
import { useId, useState } from 'preact/hooks';
import type { PicturedPart } from '../../api/pictured.ts';
import { partWords } from '../roll-picture/places/walk.ts';
import { partsLike } from './parts-like.ts';

/** More than this nobody reads through. */
const mostOffered = 30;

/** A field in which a part is found by its name, its order or its label. */
export function FindPart({
  parts,
  onFind,
}: {
  readonly parts: readonly PicturedPart[];
  readonly onFind: (label: string) => void;
}): JSX.Element {
  const id = useId();
  const [typed, setTyped] = useState('');
  const [said, setSaid] = useState('');
  const found = partsLike(parts, typed);
  const type = (words: string): void => {
    setTyped(words);
    setSaid('');
    const chosen = parts.find((part) => partWords(part) === words);
    if (chosen !== undefined) take(chosen);
  };
  const take = (part: PicturedPart | undefined): void => {
    if (part === undefined) {
      setSaid(`No part is called ${typed}.`);
      return;
    }
    setSaid(`Found ${partWords(part)}.`);
    onFind(part.label);
  };
  return (
    <form
      class="find-part"
      role="search"
      onSubmit={(event) => {
        event.preventDefault();
        if (typed.trim() !== '') take(found[0]);
      }}
    >
      <input
        type="search"
        aria-label="Find a part"
        placeholder="Find a part"
        list={id}
        value={typed}
        onInput={(event) => type(event.currentTarget.value)}
      />
      <datalist id={id}>
        {typed.trim() !== '' &&
          found.slice(0, mostOffered).map((part) => <option value={partWords(part)} />)}
      </datalist>
      <span class="unseen" role="status">
        {said}
      </span>
    </form>
  );
}
