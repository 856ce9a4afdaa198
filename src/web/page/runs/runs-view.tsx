import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { RunCard } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useKept } from '../use-kept.ts';
import { useLoaded } from '../use-loaded.ts';
import { counted, metres, percent } from '../words.ts';
import { NewRun } from './new-run.tsx';

/** Every run that was prepared or cut here, the newest first. */
export function RunsView(): JSX.Element {
  const shop = useLoaded(() => calls.shop(), []);
  const [marked, setMarked] = useState<readonly string[]>([]);
  const [dialog, setDialog] = useState<'new' | RunCard | null>(null);
  const [hint, setHint] = useKept('hint', 'shown');
  const runs = shop.value?.runs ?? [];
  const mark = (name: string, on: boolean): void =>
    setMarked((before) =>
      [...before.filter((one) => one !== name), ...(on ? [name] : [])].slice(-2),
    );
  return (
    <div class="view">
      <div class="title-row">
        <h1>Runs</h1>
        <div class="actions">
          {marked.length === 2 && (
            <a class="button" href={addressOf('compare', ...marked)}>
              Compare {marked[0]} with {marked[1]}
            </a>
          )}
          <button
            class="button accent"
            disabled={shop.value === null}
            onClick={() => setDialog('new')}
          >
            New run
          </button>
        </div>
      </div>
      {hint === 'shown' && shop.value !== null && (
        <Hint
          demo={runs.find(({ name }) => name === demoRun)?.title ?? null}
          onClose={() => setHint('seen')}
        />
      )}
      <Findings findings={[...shop.findings, ...(shop.value?.findings ?? [])]} />
      {shop.value === null && shop.isLoading && <p class="quiet">Looking into the workshop …</p>}
      {shop.value !== null && runs.length === 0 && (
        <p class="quiet">Nothing has been prepared here yet. Begin with a new run.</p>
      )}
      <ul class="cards" role="list">
        {runs.map((run) => (
          <Card
            run={run}
            isMarked={marked.includes(run.name)}
            onMark={(on) => mark(run.name, on)}
            onCopy={() => setDialog(run)}
          />
        ))}
      </ul>
      {dialog !== null && shop.value !== null && (
        <NewRun
          shop={shop.value}
          from={dialog === 'new' ? null : dialog}
          onClose={() => setDialog(null)}
        />
      )}
    </div>
  );
}

/** The run of an invented vehicle that comes with the program. */
const demoRun = 'fenlark-week';

function Hint({
  demo,
  onClose,
}: {
  /** What the demo run is called; null where the shop does not have it. */
  demo: string | null;
  onClose: () => void;
}): JSX.Element {
  return (
    <section class="hint" aria-labelledby="hint-title">
      <h2 id="hint-title">First time here?</h2>
      <ol>
        {demo === null ? (
          <li>
            Begin with a <strong>new run</strong>, and say in its orders what is wanted.
          </li>
        ) : (
          <li>
            Open <strong>{demo}</strong> below, of a camper van that never existed, and look at its
            orders.
          </li>
        )}
        <li>
          Go to <strong>Lay</strong> and start the search; stop it when the roll looks full enough.
        </li>
        <li>
          Make the <strong>files</strong>, read the verdict, and watch the{' '}
          <strong>rehearsal</strong> of the knife.
        </li>
      </ol>
      <button class="button" onClick={onClose}>
        Understood
      </button>
    </section>
  );
}

function Card({
  run,
  isMarked,
  onMark,
  onCopy,
}: {
  run: RunCard;
  isMarked: boolean;
  onMark: (on: boolean) => void;
  onCopy: () => void;
}): JSX.Element {
  const { name, title, orders, folder, findings } = run;
  const recutOf = folder?.recutOf ?? null;
  const sets = (orders ?? []).reduce((sum, order) => sum + order.quantity, 0);
  return (
    <li class="card run-card">
      <h2>
        {orders === null && folder === null ? (
          title
        ) : (
          <a href={orders === null ? addressOf('out', name) : addressOf('run', name)}>{title}</a>
        )}
      </h2>
      <p class="quiet">
        {name}
        {recutOf !== null && `, recut of ${recutOf}`}
        {`, ${new Date(run.changed).toLocaleString()}`}
      </p>
      {orders !== null && (
        <p>
          {counted(orders.length, 'order')}, {counted(sets, 'set')}:{' '}
          {orders.map(({ order, hand }) => `${order} ${hand}`).join(', ')}
        </p>
      )}
      {findings.length > 0 && (
        <details>
          <summary>It cannot be read: {counted(findings.length, 'finding')}</summary>
          <Findings findings={findings} label={`Findings of ${name}`} />
        </details>
      )}
      {findings.length === 0 && <p>{stateWords(run)}</p>}
      <div class="actions">
        {orders !== null && (
          <a class="button" href={addressOf('run', name)}>
            Open
          </a>
        )}
        {folder !== null && (
          <a class="button" href={addressOf('out', name)}>
            Files and recut
          </a>
        )}
        {orders !== null && (
          <button class="button" onClick={onCopy}>
            Copy
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
    </li>
  );
}

/** How far a run has come. */
function stateWords({ folder, isLaid }: RunCard): string {
  if (folder === null) return isLaid ? 'Laid; no files yet.' : 'Not laid yet.';
  if (folder.lays.length === 0) return 'Its record cannot be read.';
  return folder.lays
    .map((lay) => `${lay.name} ${metres(lay.length)}, ${percent(lay.density)} used`)
    .join('; ');
}
