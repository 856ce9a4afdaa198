import type { JSX } from 'preact';
import type { FolderFile, RunFolder } from '../../api/files.ts';
import { fileAddress } from '../server/calls.ts';
import { biteOfFile, offeredFiles } from './roll-files.tsx';

/** Which program of a roll: the dry one, the whole one, or that of one bite. */
type WhichProgram = 'dry' | 'whole' | number;

/** A button that downloads a program of a roll. Nothing where there is none, or where it must not be given out. */
export function ProgramLink({
  folder,
  roll,
  which,
  words,
  isFirst = false,
}: {
  readonly folder: RunFolder;
  readonly roll: string;
  readonly which: WhichProgram;
  readonly words: string;
  /** Whether it is what is wanted first. */
  readonly isFirst?: boolean;
}): JSX.Element | null {
  const file = offeredFiles(folder, roll).find((one) => isWanted(one, which));
  if (file === undefined) return null;
  return (
    <a
      class={isFirst ? 'button strong-frame' : 'button'}
      href={fileAddress(folder.name, file.name)}
      download={file.name}
    >
      {words}
    </a>
  );
}

function isWanted({ what, name }: FolderFile, which: WhichProgram): boolean {
  if (which === 'dry') return what === 'dry';
  if (which === 'whole') return what === 'program';
  return what === 'bite' && biteOfFile(name) === which;
}
