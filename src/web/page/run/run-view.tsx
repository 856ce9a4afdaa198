import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { FolderCard, Shop } from '../../api/shop.ts';
import { Findings } from '../controls/findings.tsx';
import { RunCutting } from '../cutting/run-cutting.tsx';
import { LayPlace } from '../lay/lay-place.tsx';
import { OrdersPlace } from '../orders/orders-place.tsx';
import { PapersPlace } from '../papers/papers-place.tsx';
import { RehearsalPlace } from '../rehearsal/rehearsal-place.tsx';
import { RollsPlace } from '../roll/rolls-place.tsx';
import { alsoIn } from './also-in.ts';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import { useRunFile } from '../use-run-file.ts';
import type { PlaceName } from './places.ts';
import { placeNamed } from './places.ts';
import { RunHead } from './run-head.tsx';

/** Places whose picture takes all of the window that their controls leave. */
const filling: ReadonlySet<PlaceName> = new Set(['lay', 'cutting']);

/** A run: its line on top, and below it the place where somebody works on it. */
export function RunView({ name, place }: { name: string; place: string }): JSX.Element {
  const run = useRunFile(name);
  const shop = useLoaded(() => calls.shop(), [run.connection]);
  // The files are new, and what is known of the shop is older.
  useEffect(
    () => run.onEvent((event) => event.kind === 'cut' && !event.isUnderWay && shop.reload()),
    [name],
  );
  const at = placeNamed(place);
  const runs = shop.value?.runs ?? [];
  const card = runs.find((one) => one.name === name);
  const twice = card === undefined ? [] : alsoIn(card, runs);
  return (
    <div class={filling.has(at) ? 'run-view filling' : 'run-view'}>
      <RunHead run={run} at={at} />
      <div class="view run-place">
        <Findings findings={[...run.findings, ...shop.findings]} />
        {twice.length > 0 && ['orders', 'cutting'].includes(at) && (
          <p class="run-also">{twice.join(' ')}</p>
        )}
        {card?.cutting.state === 'begun' && ['orders', 'rolls', 'lay'].includes(at) && (
          <p class="run-also">
            This run is on the machine. What is changed here takes its programs away until files are
            made anew.
          </p>
        )}
        {run.file !== null && shop.value !== null && (
          <>
            {at === 'orders' && <OrdersPlace run={run} file={run.file} shop={shop.value} />}
            {at === 'rolls' && (
              <RollsPlace run={run} file={run.file} shop={shop.value} onStock={shop.reload} />
            )}
            {at === 'lay' && <LayPlace run={run} file={run.file} />}
            {at === 'cutting' && (
              <RunCutting
                run={run}
                shop={shop.value}
                hasFiles={cardOf(name, shop.value) !== null}
              />
            )}
            {at === 'papers' && (
              <PapersPlace run={run} hasFiles={cardOf(name, shop.value) !== null} />
            )}
            {at === 'rehearsal' && <RehearsalPlace name={name} card={cardOf(name, shop.value)} />}
          </>
        )}
      </div>
    </div>
  );
}

function cardOf(name: string, { runs }: Shop): FolderCard | null {
  return runs.find((run) => run.name === name)?.folder ?? null;
}
