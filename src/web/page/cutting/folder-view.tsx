import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { RunCard, Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Findings } from '../controls/findings.tsx';
import { RehearsalPlace } from '../rehearsal/rehearsal-place.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import { CuttingPlace } from './cutting-place.tsx';
import { folderAddress } from './folder-address.ts';
import { useStillSo } from './use-still-so.ts';
import { useCutting } from './use-cutting.ts';
import { useFolderEvents } from './use-folder-events.ts';

/** A run folder, as that of a recut: the desk on which it is cut; or its rehearsal. */
export function FolderView({
  name,
  isRehearsed,
}: {
  name: string;
  isRehearsed: boolean;
}): JSX.Element {
  const shop = useLoaded(() => calls.shop(), [name]);
  const card = shop.value?.runs.find((run) => run.name === name) ?? null;
  return (
    <div class={isRehearsed ? 'run-view' : 'run-view filling'}>
      <FolderHead name={name} card={card} shop={shop.value} isRehearsed={isRehearsed} />
      <div class="view run-place">
        {isRehearsed ? (
          <RehearsalPlace name={name} card={card?.folder ?? null} />
        ) : (
          <FolderPlace name={name} shop={shop.value} />
        )}
      </div>
    </div>
  );
}

/** What the folder is called, where its parts come from, and the ways back and on. */
function FolderHead({
  name,
  card,
  shop,
  isRehearsed,
}: {
  name: string;
  card: RunCard | null;
  shop: Shop | null;
  isRehearsed: boolean;
}): JSX.Element {
  const recutOf = card?.folder?.recutOf ?? null;
  const isRun = card !== null && card.orders !== null;
  return (
    <header class="run-head">
      <h1>{card?.title ?? name}</h1>
      <p class="quiet folder-of">
        out/{name}
        {recutOf !== null && `, recut of ${recutOf}`}
      </p>
      <div class="actions">
        {recutOf !== null && (
          <a class="button" href={folderAddress(recutOf, shop)}>
            Back to {recutOf}
          </a>
        )}
        {isRun && (
          <a class="button" href={addressOf('run', name, 'cutting')}>
            To the run
          </a>
        )}
        {isRehearsed ? (
          <a class="button" href={addressOf('out', name)}>
            To the cutting
          </a>
        ) : (
          <a class="button" href={addressOf('out', name, 'rehearsal')}>
            Rehearsal
          </a>
        )}
      </div>
    </header>
  );
}

function FolderPlace({ name, shop }: { name: string; shop: Shop | null }): JSX.Element {
  const { value, findings, isLoading, reload } = useLoaded(() => calls.runFolder(name), [name]);
  const listen = useFolderEvents(name);
  useEffect(() => listen((event) => event.kind === 'cut' && !event.isUnderWay && reload()), [name]);
  useStillSo(value, reload);
  const cutting = useCutting(name, value?.fingerprint ?? null, listen, 0);
  const isRun = shop?.runs.some((run) => run.name === name && run.orders !== null) === true;
  return (
    <CuttingPlace
      folder={value}
      shop={shop}
      cutting={cutting}
      isWaiting={isLoading}
      papersAt={null}
      making={
        <>
          <Findings findings={findings} />
          {value !== null && value.changes.length > 0 && isRun && (
            <div class="actions">
              <a class="button accent large" href={addressOf('run', name, 'cutting')}>
                To the run, to make the files anew
              </a>
            </div>
          )}
        </>
      }
    />
  );
}
