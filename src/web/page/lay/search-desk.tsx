import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { SearchState } from '../../api/lay.ts';
import { Select } from '../controls/fields.tsx';
import { clock } from '../words.ts';

const times = [
  { value: '10', words: '10 seconds' },
  { value: '30', words: '30 seconds' },
  { value: '120', words: '2 minutes' },
  { value: '600', words: '10 minutes' },
  { value: '14400', words: 'Until I stop it' },
];

/** Starts the search and stops it; shows how long it still goes on. */
export function SearchDesk({
  search,
  isLaid,
  onBegin,
  onStop,
}: {
  search: SearchState | null;
  isLaid: boolean;
  onBegin: (seconds: number) => void;
  onStop: () => void;
}): JSX.Element {
  const [seconds, setSeconds] = useState('30');
  return (
    <div class="desk">
      {search === null ? (
        <>
          <Select label="Search for" value={seconds} choices={times} onChange={setSeconds} />
          <button class="button accent large" onClick={() => onBegin(Number(seconds))}>
            {isLaid ? 'Go on searching' : 'Lay the parts'}
          </button>
        </>
      ) : (
        <>
          <button class="button accent large" onClick={onStop}>
            Good enough: stop
          </button>
          <dl class="figures">
            <div>
              <dt>Time left</dt>
              <dd class="figure">
                {search.left > 7200 ? 'as you like' : clock(Math.ceil(search.left) / 60)}
              </dd>
            </div>
            <div>
              <dt>Now laying</dt>
              <dd class="strong">
                {search.cloth === '' ? 'getting ready' : search.cloth}
                {search.of > 1 && `, ${search.number} of ${search.of}`}
              </dd>
            </div>
          </dl>
        </>
      )}
      <p class="unseen" role="status">
        {search === null ? 'No search is under way.' : `Searching: ${search.cloth}`}
      </p>
    </div>
  );
}
