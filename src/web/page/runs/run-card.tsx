import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { RunGlance } from '../../api/runs.ts';
import type { RunCard } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { counted } from '../words.ts';
import { RunPicture } from './run-picture.tsx';
import { firstDue, placeToGoOn, stateWords } from './run-state.ts';

/** More orders than this are counted, and not named. */
const mostNamed = 4;

/** A run: its longest lay in little, how it stands, whose orders are in it, and where the work goes on. */
export function RunCardView({
  run,
  also,
  isMarked,
  onMark,
  onCopy,
  onPutAway,
}: {
  readonly run: RunCard;
  /** Which of its orders other runs have too, in sentences. */
  readonly also: readonly string[];
  readonly isMarked: boolean;
  readonly onMark: (on: boolean) => void;
  readonly onCopy: () => void;
  readonly onPutAway: (away: boolean) => void;
}): JSX.Element {
  const { name, title, orders, folder, findings } = run;
  const card = useRef<HTMLLIElement>(null);
  const glance = useGlance(run, card);
  const next = placeToGoOn(run);
  const files = folder === null ? null : addressOf('out', name);
  const open = next === null ? files : addressOf('run', name, next[0]);
  const recutOf = folder?.recutOf ?? null;
  const due = firstDue(run);
  const [isAsked, setAsked] = useState(false);
  const uncut = run.cutting.state === 'cut' ? 0 : (orders?.length ?? 0);
  return (
    <li class="card run-card" ref={card}>
      <RunPicture picture={glance?.picture ?? null} />
      <h3>{open === null ? title : <a href={open}>{title}</a>}</h3>
      {findings.length > 0 ? (
        <details>
          <summary>It cannot be read: {counted(findings.length, 'finding')}</summary>
          <Findings findings={findings} label={`Findings of ${name}`} />
        </details>
      ) : (
        <p class="run-state">{stateWords(run, glance)}</p>
      )}
      {also.map((words) => (
        <p class="run-also">{words}</p>
      ))}
      <p class="quiet">
        {due !== null && <strong>due {due}, </strong>}
        {orders !== null && `${ordersWords(orders)}, `}
        {recutOf !== null && `recut of ${recutOf}, `}
        {name}, changed {new Date(run.changed).toLocaleString()}
      </p>
      <div class="actions">
        {open !== null && (
          <a class="button accent" href={open}>
            {next?.[1] ?? 'To its files'}
          </a>
        )}
        <details class="run-more">
          <summary>More</summary>
          <div class="actions">
            {orders !== null && (
              <a class="button" href={addressOf('run', name)}>
                Orders
              </a>
            )}
            {files !== null && (
              <a class="button" href={files}>
                Files and recut
              </a>
            )}
            {orders !== null && (
              <button class="button" onClick={onCopy}>
                Copy
              </button>
            )}
            {isAsked ? (
              <>
                <p>
                  {counted(uncut, 'order')} of it {uncut === 1 ? 'is' : 'are'} not cut. Put it away
                  all the same?
                </p>
                <button class="button" onClick={() => onPutAway(true)}>
                  Yes, put it away
                </button>
                <button class="button" onClick={() => setAsked(false)}>
                  Keep it here
                </button>
              </>
            ) : (
              <button
                class="button"
                onClick={() =>
                  uncut > 0 && !run.isArchived ? setAsked(true) : onPutAway(!run.isArchived)
                }
              >
                {run.isArchived ? 'Take it back' : 'Put it away'}
              </button>
            )}
            {folder !== null && (
              <label class="tick">
                <input
                  type="checkbox"
                  checked={isMarked}
                  onChange={(event) => onMark(event.currentTarget.checked)}
                />
                <span>Compare</span>
              </label>
            )}
          </div>
        </details>
      </div>
    </li>
  );
}

function ordersWords(orders: NonNullable<RunCard['orders']>): string {
  const sets = orders.reduce((sum, { quantity }) => sum + quantity, 0);
  const named = orders.slice(0, mostNamed).map(({ order, hand }) => `${order} ${hand}`);
  const more = orders.length > mostNamed ? ' …' : '';
  return `${counted(orders.length, 'order')}, ${counted(sets, 'set')}: ${named.join(', ')}${more}`;
}

/** What is seen of the run from afar: asked for once its card comes into sight. */
function useGlance(
  { name, changed }: RunCard,
  card: { readonly current: HTMLElement | null },
): RunGlance | null {
  const [glance, setGlance] = useState<RunGlance | null>(null);
  useEffect(() => {
    let isOver = false;
    const watch = new IntersectionObserver(([seen]) => {
      if (seen?.isIntersecting !== true) return;
      watch.disconnect();
      // A card without a picture says all that must be known; the run itself tells what is wrong with it.
      calls
        .glance(name)
        .then((found) => !isOver && setGlance(found))
        .catch(() => undefined);
    });
    watch.observe(card.current!);
    return () => {
      isOver = true;
      watch.disconnect();
    };
  }, [name, changed]);
  return glance;
}
