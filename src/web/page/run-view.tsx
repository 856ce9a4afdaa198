import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { FolderCard, Shop } from '../api/shop.ts';
import { addressOf } from './address.ts';
import { BackAndForth } from './controls/back-and-forth.tsx';
import { Findings } from './controls/findings.tsx';
import { FilesStep } from './files/files-step.tsx';
import { LayStep } from './lay/lay-step.tsx';
import { OrdersStep } from './orders/orders-step.tsx';
import { RehearsalStep } from './rehearsal/rehearsal-step.tsx';
import { RollStep } from './roll/roll-step.tsx';
import { calls } from './server/calls.ts';
import { useLoaded } from './use-loaded.ts';
import { useRunFile } from './use-run-file.ts';

const steps = [
  ['orders', 'Orders'],
  ['roll', 'Roll'],
  ['lay', 'Lay'],
  ['files', 'Files'],
  ['rehearsal', 'Rehearsal'],
] as const;

/**
 * A run on its way from orders to files, one step after the other. A person can go back to any of them.
 */
export function RunView({ name, step }: { name: string; step: string }): JSX.Element {
  const run = useRunFile(name);
  const shop = useLoaded(() => calls.shop(), [run.connection]);
  // The files are new, and what is known of the shop is older.
  useEffect(
    () => run.onEvent((event) => event.kind === 'cut' && !event.isUnderWay && shop.reload()),
    [name],
  );
  const at = Math.max(
    0,
    steps.findIndex(([id]) => id === step),
  );
  const next = steps[at + 1];
  return (
    <div class="view run-view">
      <div class="title-row">
        {run.file === null ? <h1>{name}</h1> : <h1>{run.file.content.title}</h1>}
        {run.file !== null && (
          <BackAndForth
            undo={run.file.undo}
            redo={run.file.redo}
            onUndo={() => run.undo?.()}
            onRedo={() => run.redo?.()}
          />
        )}
        <p class="quiet" role="status">
          {run.isSaving ? 'Saving …' : run.file === null ? '' : `Saved as patterns/${name}.yaml`}
        </p>
      </div>
      <nav class="steps" aria-label="Steps of this run">
        <ol role="list">
          {steps.map(([id, words], i) => (
            <li>
              <a href={addressOf('run', name, id)} aria-current={i === at ? 'step' : undefined}>
                <span class="step-number">{i + 1}</span> {words}
              </a>
            </li>
          ))}
        </ol>
      </nav>
      <Findings findings={run.findings} />
      {run.file !== null && shop.value !== null && (
        <>
          {at === 0 && <OrdersStep run={run} file={run.file} shop={shop.value} />}
          {at === 1 && (
            <RollStep run={run} file={run.file} shop={shop.value} onStock={shop.reload} />
          )}
          {at === 2 && <LayStep run={run} file={run.file} />}
          {at === 3 && <FilesStep run={run} hasFiles={cardOf(name, shop.value) !== null} />}
          {at === 4 && <RehearsalStep name={name} card={cardOf(name, shop.value)} />}
        </>
      )}
      <Findings findings={shop.findings} />
      {next !== undefined && (
        <p class="onward">
          <a class="button accent" href={addressOf('run', name, next[0])}>
            Next: {next[1]}
          </a>
        </p>
      )}
    </div>
  );
}

function cardOf(name: string, { runs }: Shop): FolderCard | null {
  return runs.find((run) => run.name === name)?.folder ?? null;
}
