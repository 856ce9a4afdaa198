import type { JSX } from 'preact';
import type { FolderFile, RunFolder } from '../../api/files.ts';
import { fileAddress } from '../server/calls.ts';

const fileWords = {
  dry: 'Dry program, knife up: run this first',
  program: 'Program',
  drawing: 'Drawing (DXF)',
} as const;

/** All that the machine may be given of a roll, in the order in which it is run, and all of the run in one. */
export function RollFiles({ folder, roll }: { folder: RunFolder; roll: string }): JSX.Element {
  const own = offeredFiles(folder, roll);
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
    <section class="pane" aria-label={`Files of ${roll}`}>
      <ul class="files" role="list">
        {(['dry', 'program', 'drawing'] as const).flatMap((what) =>
          own.filter((file) => file.what === what).map((file) => row(file, fileWords[what])),
        )}
        {own
          .filter(({ what }) => what === 'bite')
          .map((file) => row(file, `Bite ${biteOfFile(file.name)} alone`))}
      </ul>
      <p>
        <a class="button" href={fileAddress(folder.name)} download={`${folder.name}.zip`}>
          All of the run in one (zip)
        </a>
      </p>
    </section>
  );
}

/** The files of a roll that a machine may be given. */
export function offeredFiles({ files }: Pick<RunFolder, 'files'>, roll: string): FolderFile[] {
  return files.filter((file) => file.of === roll && file.offered);
}

/** The number of the bite that a program cuts alone. */
export function biteOfFile(name: string): number {
  return Number(/\.bite-(\d+)\.nc$/.exec(name)?.[1] ?? 0);
}

function sizeWords(bytes: number): string {
  return bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
