import type { JSX } from 'preact';
import type { Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Findings } from '../controls/findings.tsx';
import { RehearsalStep } from '../rehearsal/rehearsal-step.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import { FolderFiles } from './folder-files.tsx';
import { ProofVerdict } from './proof-verdict.tsx';
import { Recut } from './recut.tsx';
import { Rests } from './rests.tsx';

/** A run as it was cut: its verdict, its files, and parts to be cut once more; or its rehearsal. */
export function FolderView({
  name,
  isRehearsed,
}: {
  name: string;
  isRehearsed: boolean;
}): JSX.Element {
  const shop = useLoaded(() => calls.shop(), [name]);
  const card = shop.value?.runs.find((run) => run.name === name);
  const recutOf = card?.folder?.recutOf ?? null;
  return (
    <div class="view">
      <div class="title-row">
        <h1>{card?.title ?? name}</h1>
        <div class="actions">
          {isRehearsed ? (
            <a class="button" href={addressOf('out', name)}>
              Files and recut
            </a>
          ) : (
            <a class="button" href={addressOf('out', name, 'rehearsal')}>
              Rehearsal
            </a>
          )}
        </div>
      </div>
      <p class="quiet">
        out/{name}
        {recutOf !== null && `, recut of ${recutOf}`}
      </p>
      {isRehearsed ? (
        <RehearsalStep name={name} card={card?.folder ?? null} />
      ) : (
        <FolderBody name={name} shop={shop.value} />
      )}
    </div>
  );
}

function FolderBody({ name, shop }: { name: string; shop: Shop | null }): JSX.Element {
  const { value, findings, isLoading } = useLoaded(() => calls.runFolder(name), [name]);
  const isRun = shop?.runs.some((run) => run.name === name && run.orders !== null) === true;
  return (
    <>
      <Findings findings={findings} />
      {value === null && isLoading && <p class="quiet">Reading and proving …</p>}
      {value !== null && (
        <>
          <ProofVerdict folder={value} />
          {value.changes.length > 0 && isRun && (
            <div class="actions">
              <a class="button accent large" href={addressOf('run', name, 'cutting')}>
                To the run, to make the files anew
              </a>
            </div>
          )}
          <FolderFiles folder={value} />
          <Rests folder={value} />
          <Recut folder={value} shop={shop} />
        </>
      )}
    </>
  );
}
