import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { onDisk } from './disk.ts';
import { withdrawnEnding } from '../base/names.ts';
import { rename } from './rename.ts';

/**
 * Takes the programs of a run folder out of the way of the machine: renames each `*.nc` to
 * `*.nc.withdrawn`, so that it can still be looked at. Programs that the run did not write go too. Returns
 * the old names. Throws a Refusal if the disk does not allow it.
 */
export function withdrawPrograms(folder: string): string[] {
  const todo = 'The programs of this folder are not proven: do not cut from it.';
  const programs = onDisk(folder, todo, () =>
    readdirSync(folder).filter((name) => name.toLowerCase().endsWith('.nc')),
  );
  for (const name of programs) {
    onDisk(folder, todo, () => rename(join(folder, name), join(folder, name + withdrawnEnding)));
  }
  return programs.sort();
}
