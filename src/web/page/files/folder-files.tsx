import type { JSX } from 'preact';
import { recordedName } from '../../../program/record/run-record.ts';
import type { FolderFile, RunFolder } from '../../api/files.ts';
import { fileAddress } from '../server/calls.ts';
import { Papers } from '../papers/papers.tsx';
import { counted, olderWords } from '../words.ts';

const machineWords = {
  dry: 'Dry program, knife up: run this first',
  program: 'Program',
  drawing: 'Drawing (DXF)',
} as const;

/** What the machine needs, roll by roll, and the papers for everybody else. */
export function FolderFiles({ folder }: { folder: RunFolder }): JSX.Element {
  const { name, lays, proven, changes } = folder;
  const older = olderWords(changes);
  const isGiven = proven && older === null;
  return (
    <>
      <section class="pane" aria-labelledby="machine-title">
        <div class="title-row">
          <h2 id="machine-title">For the machine</h2>
          {isGiven && (
            <a class="button" href={fileAddress(name)} download={`${name}.zip`}>
              All in one (zip)
            </a>
          )}
        </div>
        {!proven && <p>Nothing is offered while the proof fails.</p>}
        {proven && older !== null && <p>Nothing is offered that is older than the run.</p>}
        {isGiven && lays.map((lay) => <MachineFiles folder={folder} roll={recordedName(lay)} />)}
        <p class="caution">
          A cutting file is not a safety function. Guards closed, hands clear; stop and isolate the
          machine before touching a blade. The machine’s manual and local rules come first.
        </p>
      </section>
      <Papers folder={folder} />
    </>
  );
}

/** The files of one roll, in the order in which they are run. */
function MachineFiles({ folder, roll }: { folder: RunFolder; roll: string }): JSX.Element {
  const own = folder.files.filter((file) => file.of === roll && file.offered);
  const bites = own.filter(({ what }) => what === 'bite');
  const row = (file: FolderFile, words: string): JSX.Element => (
    <li>
      <a href={fileAddress(folder.name, file.name)} download={file.name}>
        {words}
      </a>
      <span class="quiet">
        {file.name}, {sizeWords(file.size)}
      </span>
    </li>
  );
  return (
    <section aria-label={roll}>
      <h3>{roll}</h3>
      <ul class="files" role="list">
        {(['dry', 'program', 'drawing'] as const).flatMap((what) =>
          own.filter((file) => file.what === what).map((file) => row(file, machineWords[what])),
        )}
      </ul>
      {bites.length > 0 && (
        <details>
          <summary>
            {counted(bites.length, 'bite')} by themselves, to begin again with after a mishap
          </summary>
          <ul class="files" role="list">
            {bites.map((file) => row(file, `Bite ${/bite-(\d+)/.exec(file.name)?.[1] ?? ''}`))}
          </ul>
        </details>
      )}
    </section>
  );
}

function sizeWords(bytes: number): string {
  return bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
