import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { SearchState } from '../../api/lay.ts';
import { clock } from '../words.ts';

const times = [
  { value: '10', words: '10 s' },
  { value: '30', words: '30 s' },
  { value: '120', words: '2 min' },
  { value: '600', words: '10 min' },
  { value: '14400', words: 'no limit' },
];

/** Whoever presses Stop just as a search ends by itself finds another button there: for so many ms it does nothing. */
const restAfterEnd = 600;

/** Starts the search and stops it; shows how long it still goes on. */
export function SearchDesk({
  search,
  isLaid,
  refusals,
  onBegin,
  onStop,
}: {
  search: SearchState | null;
  isLaid: boolean;
  /** What the last wish was refused with: it can be wished again. */
  refusals: readonly Finding[];
  onBegin: (seconds: number) => void;
  onStop: () => void;
}): JSX.Element {
  const [seconds, setSeconds] = useState('30');
  // What was pressed is seen at once, also where the server takes its time.
  const [pressed, setPressed] = useState<'begin' | 'stop' | null>(null);
  useEffect(() => setPressed(null), [search === null, refusals]);
  const isResting = useRest(search === null);
  return (
    <div class="search-desk">
      {search === null ? (
        <>
          <select
            aria-label="Search for"
            value={seconds}
            onChange={(event) => setSeconds(event.currentTarget.value)}
          >
            {times.map(({ value, words }) => (
              <option value={value}>{words}</option>
            ))}
          </select>
          <button
            class="button accent"
            disabled={pressed === 'begin'}
            aria-disabled={isResting}
            onClick={() => {
              if (isResting) return;
              setPressed('begin');
              onBegin(Number(seconds));
            }}
          >
            {pressed === 'begin' ? 'Beginning …' : isLaid ? 'Go on searching' : 'Lay the parts'}
          </button>
        </>
      ) : (
        <>
          <p class="search-left">
            <strong>
              {search.left > 7200 ? 'as you like' : clock(Math.ceil(search.left) / 60)}
            </strong>{' '}
            <span class="quiet">
              {search.cloth === '' ? 'getting ready' : 'left'}
              {search.of > 1 && `, ${search.number} of ${search.of}`}
            </span>
          </p>
          <button
            class="button accent"
            disabled={pressed === 'stop'}
            onClick={() => {
              setPressed('stop');
              onStop();
            }}
          >
            {pressed === 'stop' ? 'Stopping …' : 'Good enough: stop'}
          </button>
        </>
      )}
      <p class="unseen" role="status">
        {search === null ? 'No search is under way.' : `Searching: ${search.cloth}`}
      </p>
    </div>
  );
}

/** Whether a search has ended within the last moment. */
function useRest(isOver: boolean): boolean {
  const wasOn = useRef(false);
  const [, setRested] = useState(0);
  if (!isOver) wasOn.current = true;
  useEffect(() => {
    if (!isOver) return;
    const rested = setTimeout(() => {
      wasOn.current = false;
      setRested((count) => count + 1);
    }, restAfterEnd);
    return () => clearTimeout(rested);
  }, [isOver]);
  return isOver && wasOn.current;
}
