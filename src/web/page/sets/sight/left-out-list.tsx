import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { SightBox, SightThing } from '../../../api/sight.ts';
import { counted } from '../../words.ts';

/** So many are listed at first, and as many more each time. */
const atOnce = 12;

/** Everything that lies in no outline, in words, with a button that goes there. */
export function LeftOutList({
  things,
  onGo,
}: {
  readonly things: readonly SightThing[];
  readonly onGo: (box: SightBox) => void;
}): JSX.Element | null {
  const [most, setMost] = useState(atOnce);
  if (things.length === 0) return null;
  // What is drawn may be missed; a text that stands alone seldom is.
  const sorted = things.toSorted((a, b) => Number(a.isText) - Number(b.isText));
  const rest = sorted.length - most;
  return (
    <section class="stack" aria-labelledby="left-out">
      <h2 id="left-out">In no outline: {counted(things.length, 'thing')}</h2>
      <p class="quiet">
        Nothing of it is lost: the set keeps it, and asks about it. What is drawn glows in the
        picture.
      </p>
      <ul class="left-out" role="list" aria-labelledby="left-out">
        {sorted.slice(0, most).map(({ words, layer, box }) => (
          <li>
            <span>
              {words} <span class="quiet">on {layer}</span>
            </span>
            <button
              class="button"
              aria-label={`Show ${words} on ${layer}`}
              onClick={() => onGo(box)}
            >
              Show
            </button>
          </li>
        ))}
      </ul>
      {rest > 0 && (
        <button class="button" onClick={() => setMost(most + 10 * atOnce)}>
          {rest} more
        </button>
      )}
    </section>
  );
}
