import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { HeldEdit } from './use-held-edit.ts';

/** Asks before the name of a piece goes that runs speak of, and says what to change there. */
export function HeldEditQuestion({
  held: { piece, to, runs, answer },
}: {
  readonly held: HeldEdit;
}): JSX.Element {
  const box = useRef<HTMLElement>(null);
  useEffect(() => box.current!.focus(), [piece, to]);
  return (
    <section
      class="question error"
      role="alertdialog"
      aria-labelledby="held"
      tabIndex={-1}
      ref={box}
    >
      <p id="held">
        <strong>Asked: </strong>
        {runs.length === 1 ? 'A run speaks' : `${runs.length} runs speak`} of {piece}. Is it to be{' '}
        {to === null ? 'no piece any more' : `called ${to}`} all the same?
      </p>
      <ul>
        {runs.map(({ run, places }) => (
          <li>
            patterns/{run}.yaml
            <ul>
              {places.map((place) => (
                <li>{place}</li>
              ))}
            </ul>
          </li>
        ))}
      </ul>
      <p class="quiet">
        Run files are left as they are, and what they say of {piece} is found no more: afterwards{' '}
        {to === null ? `take ${piece} out there` : `write ${to} there`}, before they are cut.
      </p>
      <div class="actions">
        <button class="button accent" onClick={() => answer(true)}>
          {to === null ? `Yes, take ${piece} out of the set` : `Yes, call it ${to}`}
        </button>
        <button class="button" onClick={() => answer(false)}>
          No, leave it as it is
        </button>
      </div>
    </section>
  );
}
