import type { JSX } from 'preact';
import type { Together } from '../../api/together.ts';
import { Findings } from '../controls/findings.tsx';
import { Swatch } from '../controls/swatch.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import { counted, metres, metresDown } from '../words.ts';

/** Which orders share a roll, and in which order it is proposed to cut them. It changes nothing. */
export function SharedRolls({
  run,
  version,
  onOpen,
}: {
  run: string;
  version: string;
  /** Opens an order by its name. */
  onOpen: (order: string) => void;
}): JSX.Element {
  const { value, findings, isLoading } = useLoaded(() => calls.together(run), [run, version]);
  return (
    <section class="pane" aria-labelledby="shared-title">
      <h2 id="shared-title">What is cut together</h2>
      <p class="quiet">
        A proposal: by the day on which orders are due, and of one day those first that need the
        width of the roll. Nothing is changed or moved.
      </p>
      <Findings findings={findings} />
      {findings.length === 0 && value !== null && <LeftOut {...value} onOpen={onOpen} />}
      {value === null && isLoading && <p class="quiet">Looking what is cut from what …</p>}
      {findings.length === 0 && (
        <div class="cards">
          {value?.cloths.map((cloth) => (
            <SharedCloth cloth={cloth} onOpen={onOpen} />
          ))}
        </div>
      )}
    </section>
  );
}

/** The orders that are not looked at, and why. */
function LeftOut({
  left,
  findings,
  onOpen,
}: Pick<Together, 'left' | 'findings'> & {
  onOpen: (order: string) => void;
}): JSX.Element | null {
  if (left.length === 0) return null;
  return (
    <>
      <p>
        Left out until {left.length === 1 ? 'it is' : 'they are'} mended:{' '}
        {left.map((order, i) => (
          <>
            {i > 0 && ', '}
            <button class="order-link" onClick={() => onOpen(order)}>
              {order}
            </button>
          </>
        ))}
      </p>
      <Findings findings={findings} label="Orders left out" />
    </>
  );
}

function SharedCloth({
  cloth: { title, colour, sample, orders, note, least, length },
  onOpen,
}: {
  cloth: Together['cloths'][number];
  onOpen: (order: string) => void;
}): JSX.Element {
  const shared =
    orders.length === 1 ? 'One order alone' : `${counted(orders.length, 'order')} share the roll`;
  return (
    <section class="card" aria-label={colour === null ? title : `${title}, ${colour}`}>
      <h3>
        <Swatch sample={sample} />
        {title}
        {colour !== null && `, ${colour}`}
      </h3>
      <p>
        {shared}: at least {metres(least)}
        {length === null ? '' : ` of ${metresDown(length)}`}. <span class="quiet">{note}</span>
      </p>
      <ol class="proposed">
        {orders.map(({ order, parts, why }) => (
          <li>
            <button class="order-link" onClick={() => onOpen(order)}>
              {order}
            </button>
            <span>
              {counted(parts, 'part')}
              {why !== '' && `, ${why}`}
            </span>
          </li>
        ))}
      </ol>
    </section>
  );
}
