import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { FolderCard } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Choices } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import { olderWords } from '../words.ts';
import { rehearsalOf } from './rehearsal-body.ts';
import { RehearsalPlayer } from './rehearsal-player.tsx';

/** The programs of a run, played as they stand in its folder. */
export function RehearsalPlace({
  name,
  card,
}: {
  name: string;
  /** null: there are no files of the run, or it is not yet known. */
  card: FolderCard | null;
}): JSX.Element {
  // The proof may take longer than reading a program back, so it is shown when it is there.
  const proof = useLoaded(() => calls.proof(name), [name]);
  const keys = card?.lays.map((lay) => lay.name) ?? [];
  const [wanted, setWanted] = useState('');
  const key = keys.includes(wanted) ? wanted : keys[0];
  const older = olderWords(proof.value?.changes ?? []);
  return (
    <>
      <Findings findings={proof.findings} />
      {older !== null && (
        <section class="verdict-box failed" aria-labelledby="verdict">
          <p class="verdict" id="verdict">
            {older}
          </p>
          <p>Nothing is played that must not be cut.</p>
        </section>
      )}
      {(proof.findings.length > 0 || older !== null) && (
        <div class="actions">
          <a class="button" href={addressOf('run', name, 'cutting')}>
            To the files
          </a>
        </div>
      )}
      {keys.length > 1 && older === null && (
        <Choices
          label="Program"
          value={key ?? ''}
          choices={keys.map((one) => ({ value: one, words: `${one}.nc` }))}
          onChange={setWanted}
        />
      )}
      {proof.value?.proven === false && older === null && (
        <p class="notice">
          <strong>Not proven.</strong> This is what the program on the disk would do. Do not cut it.
        </p>
      )}
      {key !== undefined && older === null && <Played key={key} name={name} lay={key} />}
    </>
  );
}

function Played({ name, lay }: { name: string; lay: string }): JSX.Element {
  const played = useLoaded(async () => rehearsalOf(await calls.rehearsal(name, lay)), [name, lay]);
  if (played.value === null) {
    return (
      <>
        <Findings findings={played.findings} />
        {played.isLoading && <p class="quiet">Reading {lay}.nc back …</p>}
      </>
    );
  }
  const { rehearsal, moves } = played.value;
  return (
    <RehearsalPlayer
      rehearsal={rehearsal}
      moves={moves}
      roll={rehearsal.bed.roll}
      parts={rehearsal.bed.parts}
      placements={rehearsal.bed.placements}
    />
  );
}
