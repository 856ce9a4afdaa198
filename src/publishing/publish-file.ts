import { existsSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, extname } from 'node:path';
import { refuse } from '../base/findings.ts';
import { makeFolder, onDisk } from './disk.ts';
import { rename } from './rename.ts';
import { leftoversOf, unfinishedName } from './unfinished.ts';

/**
 * Refuses a file that must not be written over, before any work is done: throws a Refusal if the name
 * does not end in `ending`, if it is a folder, or if the file exists and `force` is false.
 */
export function checkFileTarget(file: string, ending: string, force: boolean): void {
  if (extname(file) !== ending) {
    refuse('target', `this name does not end in ${ending}.`, 'Give it that ending.', { file });
  }
  if (!existsSync(file)) return;
  if (statSync(file).isDirectory()) {
    refuse('target', 'this is a folder.', 'Name a file.', { file });
  }
  if (!force) {
    refuse('target', 'this file exists already.', 'Add --force to write it anew.', { file });
  }
}

/**
 * Writes the file under another name beside its place, then renames it. So under its own name it is
 * either whole or not there. Throws a Refusal if that fails; what stood under the name then stays.
 */
export function publishFile(file: string, text: string | Uint8Array): void {
  const partial = unfinishedName(file, 'partial');
  try {
    onDisk(file, 'Mend that, or name another file.', () => {
      makeFolder(dirname(file));
      for (const { path, isAtWork } of leftoversOf(file)) if (!isAtWork) rmSync(path);
      writeFileSync(partial, text);
      rename(partial, file);
    });
  } finally {
    if (existsSync(partial)) rmSync(partial);
  }
}
