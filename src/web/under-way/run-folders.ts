import { existsSync, lstatSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { refuse } from '../../base/findings.ts';
import type { RunRecord } from '../../program/record/run-record.ts';
import type { FolderFile, RunFolder } from '../api/files.ts';
import { sha256 } from '../../base/sha256.ts';
import { listName, readList } from '../../publishing/file-list.ts';
import type { ServerThreads } from '../tasks/threads.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { inputIn, placeIn, runFolderIn } from '../workshop/workshop.ts';

/** The run folders of the workshop. Each is proven again whenever anything in it has changed. */
export interface RunFolders {
  /** Reads a run folder with its proof. Throws a Refusal where it is no run folder. */
  readonly folder: (run: string) => Promise<RunFolder>;
  /**
   * Reads a file of a run folder. Throws a Refusal where the proof, as it finds the folder now, keeps
   * it from being given out.
   */
  readonly file: (
    run: string,
    name: string,
  ) => Promise<{ file: FolderFile; bytes: Uint8Array<ArrayBuffer> }>;
  /**
   * A program of a run folder, ready to be played (see `rehearsalBody`). Throws a Refusal where there
   * is none.
   */
  readonly rehearsal: (run: string, lay: string) => Promise<ArrayBuffer>;
  /** Has the program read back that is most likely played next, and does not wait for it. */
  readonly getReady: (run: string) => void;
  /** All of a run folder in one zip. Throws a Refusal where it is not proven. */
  readonly zip: (run: string) => Promise<Uint8Array<ArrayBuffer>>;
}

/** Names of programs of a whole lay, which are neither dry nor of one bite. */
const isWhole = /^(?!.*\.(?:dry|bite-\d+)\.nc$).*\.nc$/;

/** How many programs are kept ready to be played. */
const mostPlayed = 8;

interface ProvenFolder {
  readonly stamp: string;
  readonly folder: RunFolder;
  /** The files that the run was made from, by their way from the run file's folder. */
  readonly read: readonly string[];
  /** Their sizes and times when it was asked whether the run is up to date. */
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
    // What is wrong with it is told when it is asked for.
    if (largest !== undefined) {
      rehearsal(run, largest.name.replace(/\.nc$/, '')).catch(() => {});
    }
  };
  /**
   * Reads something of a run folder, and makes sure that nothing changed between the proof and the
   * reading.
   */
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
        const path = runFolderIn(shop, run);
        const bytes = readFileSync(placeIn(path, name));
        // A change that keeps size and time of the file would not show otherwise.
        if (name !== listName && readList(path).get(name) !== sha256(bytes)) refuseUnproven();
        return { file, bytes };
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

/**
 * The files that a run was made from. Where its record cannot be read there are none; the proof says
 * so.
 */
function inputsOf(record: string): readonly string[] {
  try {
    const { inputs }: Pick<RunRecord, 'inputs'> = JSON.parse(readFileSync(record, 'utf8'));
    return inputs.map(({ file }) => file);
  } catch {
    return [];
  }
}

/** Tells whether the inputs of a run have changed: the size and the time of each. */
function inputsIn(shop: Workshop, files: readonly string[]): string {
  return files
    .map((file) => inputIn(shop, file))
    .map((path) => (path === null ? undefined : statSync(path, { throwIfNoEntry: false })))
    .map((stat) => (stat === undefined ? 'gone' : `${stat.size} ${stat.mtimeMs}`))
    .join('\n');
}

/**
 * Tells whether a folder has changed: the name, size and time of everything in it. Throws a Refusal
 * where there is no such folder.
 */
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
