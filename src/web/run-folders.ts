import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { refuse } from '../findings.ts';
import type { Folder, FolderFile } from './api.ts';
import type { Threads } from './threads.ts';
import type { Workshop } from './workshop.ts';
import { placeIn, runFolderIn } from './workshop.ts';

/** Run folders, each proven again whenever anything in it has changed. */
export interface RunFolders {
  /** Throws a Refusal where it is no run folder. */
  readonly folder: (run: string) => Promise<Folder>;
  /** A file of a run folder, if it is offered as the proof finds the folder now. Throws a Refusal. */
  readonly file: (run: string, name: string) => Promise<{ file: FolderFile; bytes: Uint8Array }>;
  /** All of a proven run folder in one. Throws a Refusal. */
  readonly zip: (run: string) => Promise<Uint8Array>;
}

export function openRunFolders(shop: Workshop, threads: Threads): RunFolders {
  const known = new Map<string, { stamp: string; folder: Folder }>();
  const folder = async (run: string): Promise<Folder> => {
    const stamp = stampOf(runFolderIn(shop, run));
    const before = known.get(run);
    if (before?.stamp === stamp) return before.folder;
    const now = await threads.run<Folder>('folder', { shop, run });
    known.set(run, { stamp, folder: now });
    return now;
  };
  /** What is given is what was proven: nothing has changed between the two. */
  const unchanged = async <T>(
    run: string,
    read: (folder: Folder) => T | Promise<T>,
  ): Promise<T> => {
    const path = runFolderIn(shop, run);
    for (let tries = 0; tries < 3; tries++) {
      const now = await folder(run);
      const stamp = stampOf(path);
      const value = await read(now);
      if (stamp === stampOf(path) && known.get(run)?.stamp === stamp) return value;
    }
    return refuse('changing', 'this run is being written anew just now.', 'Try again in a moment.');
  };
  return {
    folder,
    file: (run, name) =>
      unchanged(run, ({ files }) => {
        const file = files.find((one) => one.name === name);
        if (file === undefined) {
          return refuse('file', `run "${run}" has no file "${name}".`, 'Open the run again.');
        }
        if (!file.offered) refuseUnproven();
        return { file, bytes: readFileSync(placeIn(runFolderIn(shop, run), name)) };
      }),
    zip: (run) =>
      unchanged(run, ({ proven }) =>
        proven ? threads.run<Uint8Array>('zip', { shop, run }) : refuseUnproven(),
      ),
  };
}

function refuseUnproven(): never {
  return refuse(
    'not-proven',
    'the proof of this run fails, so nothing of it is given to a machine.',
    'Read what the proof found, and make the files anew.',
  );
}

/** Name, size and time of everything in a folder. */
function stampOf(folder: string): string {
  if (!existsSync(folder)) {
    refuse('file', 'there is no run folder of that name.', 'Make its files first.', {
      file: folder,
    });
  }
  return readdirSync(folder)
    .sort()
    .map((name) => {
      const { size, mtimeMs, ino } = statSync(join(folder, name));
      return `${name} ${size} ${mtimeMs} ${ino}`;
    })
    .join('\n');
}
