import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { RunCard } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Select } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { useKept } from '../use-kept.ts';
import { useLoaded } from '../use-loaded.ts';
import { alsoIn } from '../run/also-in.ts';
import { GatherOrders } from './gather-orders.tsx';
import { NewRun } from './new-run.tsx';
import { RunCardView } from './run-card.tsx';
import type { RunSorting } from './run-state.ts';
import { runsLike, sortedRuns, stageOf, stages } from './run-state.ts';

/** All runs by what is to be done with them: what is on the machine, what waits, what is done. */
export function RunsView(): JSX.Element {
  const shop = useLoaded(() => calls.shop(), []);
  const [marked, setMarked] = useState<readonly string[]>([]);
  const [dialog, setDialog] = useState<'new' | 'gather' | RunCard | null>(null);
  const [hint, setHint] = useKept('hint', 'shown');
  const [sorting, setSorting] = useKept('runs-sorting', 'changed');
  const [typed, setTyped] = useState('');
  const [findings, setFindings] = useState<ReturnType<typeof findingsToShow>>([]);
  const all = shop.value?.runs ?? [];
  const runs = sortedRuns(runsLike(all, typed), sorting as RunSorting);
  const mark = (name: string, on: boolean): void =>
    setMarked((before) =>
      [...before.filter((one) => one !== name), ...(on ? [name] : [])].slice(-2),
    );
  const putAway = async (name: string, away: boolean): Promise<void> => {
    try {
      await calls.putAway(name, away);
      setFindings([]);
      shop.reload();
    } catch (error) {
      setFindings(findingsToShow(error));
    }
  };
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
          <button class="button" disabled={shop.value === null} onClick={() => setDialog('gather')}>
            Gather uncut orders
          </button>
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
          demo={all.find(({ name }) => name === demoRun)?.title ?? null}
          onClose={() => setHint('seen')}
        />
      )}
      <Findings findings={[...findings, ...shop.findings, ...(shop.value?.findings ?? [])]} />
      {shop.value === null && shop.isLoading && <p class="quiet">Looking into the workshop …</p>}
      {shop.value !== null && all.length === 0 && (
        <p class="quiet">Nothing has been prepared here yet. Begin with a new run.</p>
      )}
      {all.length > 0 && (
        <div class="runs-tools">
          <input
            type="search"
            aria-label="Find runs"
            placeholder="Find by title, order, customer, set"
            value={typed}
            onInput={(event) => setTyped(event.currentTarget.value)}
          />
          <Select
            label="In order of"
            value={sorting}
            choices={[
              { value: 'changed', words: 'last change' },
              { value: 'due', words: 'day they are due' },
              { value: 'name', words: 'title' },
            ]}
            onChange={setSorting}
          />
        </div>
      )}
      {typed !== '' && runs.length === 0 && <p role="status">No run is like “{typed}”.</p>}
      {stages.map(([stage, words]) => {
        const own = runs.filter((run) => stageOf(run) === stage);
        if (own.length === 0) return null;
        const cards = (
          <ul class="cards" role="list">
            {own.map((run) => (
              <RunCardView
                key={run.name}
                run={run}
                also={alsoIn(run, all)}
                isMarked={marked.includes(run.name)}
                onMark={(on) => mark(run.name, on)}
                onCopy={() => setDialog(run)}
                onPutAway={(away) => void putAway(run.name, away)}
              />
            ))}
          </ul>
        );
        // What is put away is out of sight, unless somebody looks for it.
        return stage === 'away' ? (
          <details class="run-stage" open={typed !== ''}>
            <summary>
              {words} ({own.length})
            </summary>
            {cards}
          </details>
        ) : (
          <section class="run-stage" aria-labelledby={`stage-${stage}`}>
            <h2 id={`stage-${stage}`}>
              {words} <span class="quiet">{own.length}</span>
            </h2>
            {cards}
          </section>
        );
      })}
      {dialog === 'gather' && shop.value !== null && (
        <GatherOrders shop={shop.value} onClose={() => setDialog(null)} />
      )}
      {dialog !== null && dialog !== 'gather' && shop.value !== null && (
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
          Go to <strong>Cutting</strong>: make the files, read the verdict, and do one step after
          the other. <strong>Rehearsal</strong> shows the knife’s way.
        </li>
      </ol>
      <button class="button" onClick={onClose}>
        Understood
      </button>
    </section>
  );
}
