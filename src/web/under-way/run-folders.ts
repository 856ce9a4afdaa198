import { existsSync, lstatSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { refuse } from '../../base/findings.ts';
import type { RunRecord } from '../../program/record/run-record.ts';
import type { FolderFile, RunFolder } from '../api/files.ts';
import type { ServerThreads } from '../tasks/threads.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { inputIn, placeIn, runFolderIn } from '../workshop/workshop.ts';

/** Run folders, each proven again whenever anything in it has changed. */
export interface RunFolders {
  /** Throws a Refusal where it is no run folder. */
  readonly folder: (run: string) => Promise<RunFolder>;
  /** A file of a run folder, if it is offered as the proof finds the folder now. Throws a Refusal. */
  readonly file: (
    run: string,
    name: string,
  ) => Promise<{ file: FolderFile; bytes: Uint8Array<ArrayBuffer> }>;
  /** A program of a run folder, ready to be played; see `rehearsalBody`. Throws a Refusal. */
  readonly rehearsal: (run: string, lay: string) => Promise<ArrayBuffer>;
  /** Has the program that most likely is played next read back, without waiting for it. */
  readonly getReady: (run: string) => void;
  /** All of a proven run folder in one. Throws a Refusal. */
  readonly zip: (run: string) => Promise<Uint8Array<ArrayBuffer>>;
}

/** The program of a whole lay: neither dry nor of one bite. */
const isWhole = /^(?!.*\.(?:dry|bite-\d+)\.nc$).*\.nc$/;

/** Programs that are kept ready to be played. */
const mostPlayed = 8;

interface ProvenFolder {
  readonly stamp: string;
  readonly folder: RunFolder;
  /** Files that the run was made from, by their names from the run file's folder. */
  readonly read: readonly string[];
  /** Their state when it was asked whether the run is up to date. */
  readonly inputs: string;
}

export function openRunFolders(shop: Workshop, threads: ServerThreads): RunFolders {
  const known = new Map<string, ProvenFolder>();
  const folder = async (run: string): Promise<RunFolder> => {
    const stamp = stampOf(runFolderIn(shop, run));
    const before = known.get(run);
    if (before?.stamp === stamp && before.inputs === inputsIn(shop, before.read))
      return before.folder;
    const read = inputsOf(join(runFolderIn(shop, run), 'run.json'));
    const inputs = inputsIn(shop, read);
    const proving = threads.run('folder', { shop, run });
    getReady(run);
    const now = await proving;
    known.set(run, { stamp, folder: now, read, inputs });
    return now;
  };
  const played = new Map<string, { stamp: string; body: Promise<ArrayBuffer> }>();
  const rehearsal = async (run: string, lay: string): Promise<ArrayBuffer> => {
    const stamp = stampOf(runFolderIn(shop, run));
    const name = `${run}/${lay}`;
    const before = played.get(name);
    if (before?.stamp === stamp) return before.body;
    const body = threads.run('rehearse', { shop, run, lay });
    body.catch(() => played.delete(name));
    played.delete(name);
    played.set(name, { stamp, body });
    const [oldest] = played.keys();
    if (played.size > mostPlayed) played.delete(oldest!);
    return body;
  };
  const getReady = (run: string): void => {
    const path = runFolderIn(shop, run);
    if (!existsSync(join(path, 'run.json'))) return;
    const largest = readdirSync(path)
      .filter((name) => isWhole.test(name))
      .map((name) => ({ name, size: lstatSync(join(path, name)).size }))
      .sort((a, b) => b.size - a.size)[0];
    // What is wrong with it is told whoever asks for it.
    if (largest !== undefined) {
      rehearsal(run, largest.name.replace(/\.nc$/, '')).catch(() => {});
    }
  };
  /** What is given is what was proven: nothing has changed between the two. */
  const unchanged = async <T>(
    run: string,
    read: (folder: RunFolder) => T | Promise<T>,
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
    rehearsal,
    getReady,
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
        proven ? threads.run('zip', { shop, run }) : refuseUnproven(),
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

/** None where it cannot be read: the proof has words for that. */
function inputsOf(record: string): readonly string[] {
  try {
    const { inputs }: Pick<RunRecord, 'inputs'> = JSON.parse(readFileSync(record, 'utf8'));
    return inputs.map(({ file }) => file);
  } catch {
    return [];
  }
}

/** Size and time of each file that a run was made from. */
function inputsIn(shop: Workshop, files: readonly string[]): string {
  return files
    .map((file) => inputIn(shop, file))
    .map((path) => (path === null ? undefined : statSync(path, { throwIfNoEntry: false })))
    .map((stat) => (stat === undefined ? 'gone' : `${stat.size} ${stat.mtimeMs}`))
    .join('\n');
}

/** Name, size and time of everything in a folder. */
function stampOf(folder: string): string {
  if (!existsSync(folder) || !statSync(folder).isDirectory()) {
    refuse('file', 'there is no run folder of that name.', 'Make its files first.', {
      file: folder,
    });
  }
  return readdirSync(folder)
    .sort()
    .map((name) => {
      const { size, mtimeMs, ino } = lstatSync(join(folder, name));
      return `${name} ${size} ${mtimeMs} ${ino}`;
    })
    .join('\n');
}
