import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Finding, RunCard, RunFile, Shop } from '../../api.ts';
import { ask, findingsOf, ServerRefusal } from '../server.ts';
import { Dialog, Select, TextField } from '../shared/fields.tsx';
import { Findings } from '../shared/findings.tsx';
import { addressOf, useKept, useLoaded } from '../shared/hooks.ts';
import { counted, fileName, metres, percent } from '../shared/words.ts';

/** Everything that was prepared or cut here, the newest first. */
export function RunsView(): JSX.Element {
  const shop = useLoaded(() => ask<Shop>('/api/shop'), []);
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
  const { name, title, orders, folder, isLaid } = run;
  const recutOf = folder?.recutOf ?? null;
  const sets = (orders ?? []).reduce((sum, order) => sum + order.quantity, 0);
  return (
    <li class="card run-card">
      <h2>
        <a href={orders === null ? addressOf('out', name) : addressOf('run', name)}>{title}</a>
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
      <p>
        {folder === null
          ? isLaid
            ? 'Laid; no files yet.'
            : 'Not laid yet.'
          : folder.lays.length === 0
            ? 'Its record cannot be read.'
            : folder.lays
                .map((lay) => `${lay.name} ${metres(lay.length)}, ${percent(lay.density)} used`)
                .join('; ')}
      </p>
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

/** A run of its own: empty but for one order, or a copy of another. */
function NewRun({
  shop,
  from,
  onClose,
}: {
  shop: Shop;
  from: RunCard | null;
  onClose: () => void;
}): JSX.Element {
  const [title, setTitle] = useState(from === null ? '' : `${from.title}, copy`);
  const [cutter, setCutter] = useState(lastCutter(shop));
  const [set, setSet] = useState(shop.sets[0]?.name ?? '');
  const [failure, setFailure] = useState<unknown>(null);
  const name = freeName(fileName(title), shop);
  const make = async (): Promise<void> => {
    try {
      if (title === '') throw new ServerRefusal([untitled]);
      const sheet =
        from === null
          ? firstSheet(title, cutter, set, shop)
          : { ...(await ask<RunFile>(`/api/run/${from.name}`)).sheet, title };
      await ask(`/api/run/${name}`, 'PUT', { sheet, version: null });
      location.hash = addressOf('run', name);
    } catch (error) {
      setFailure(error);
    }
  };
  return (
    <Dialog title={from === null ? 'New run' : `Copy of ${from.title}`} onClose={onClose}>
      <form
        class="stack"
        onSubmit={(event) => {
          event.preventDefault();
          void make();
        }}
      >
        <TextField
          label="What is it called?"
          hint={title === '' ? 'Like: Week 48' : `Kept as ${name}`}
          value={title}
          onChange={setTitle}
        />
        {from === null && (
          <>
            <Select
              label="Set of the first order"
              value={set}
              choices={shop.sets.map((one) => ({ value: one.name, words: one.title }))}
              onChange={setSet}
            />
            <Select
              label="Cutter"
              value={cutter}
              choices={shop.cutters.map((one) => ({ value: one.name, words: one.title }))}
              onChange={setCutter}
            />
          </>
        )}
        {failure !== null && <Findings findings={findingsOf(failure)} />}
        <div class="actions">
          <button class="button accent" type="submit" disabled={set === ''}>
            {from === null ? 'Begin' : 'Copy'}
          </button>
          <button class="button" type="button" onClick={onClose}>
            Cancel
          </button>
        </div>
      </form>
    </Dialog>
  );
}

const untitled: Finding = {
  severity: 'error',
  rule: 'title',
  message: 'a run has a title.',
  todo: 'Say what it is called.',
  where: {},
};

/** The one that was last worked with. */
function lastCutter({ runs, cutters }: Shop): string {
  return runs.find((run) => run.cutter !== null)?.cutter ?? cutters[0]?.name ?? '';
}

function freeName(wanted: string, { runs, sets }: Shop): string {
  const taken = new Set([...runs, ...sets].map((one) => one.name));
  const names = [wanted, ...Array.from({ length: 999 }, (_, i) => `${wanted}-${i + 2}`)];
  return names.find((one) => !taken.has(one))!;
}

function firstSheet(title: string, cutter: string, set: string, shop: Shop): RunFile['sheet'] {
  const { drawn, colours } = shop.sets.find((one) => one.name === set)!;
  const order = {
    order: '1',
    set,
    hand: drawn,
    quantity: 1,
    heelPads: 'driver' as const,
    boards: true,
    underlay: true,
    ...(colours === null ? {} : { binding: colours[0]! }),
  };
  // Defaults of the run file stand in its schema; the server fills them in.
  return { title, cutter, orders: [order] } as unknown as RunFile['sheet'];
}
