import { existsSync, lstatSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { refuse } from '../../base/findings.ts';
import type { RunRecord } from '../../program/record/run-record.ts';
import { firstAndMore } from '../../base/wording.ts';
import { ordersFileOf } from '../../run/run-file.ts';
import type { FolderFile, ProvenFolder, RunFolder, RunStanding } from '../api/files.ts';
import { isForMachine } from '../api/files.ts';
import type { PrintWish, RunPapers } from '../api/papers.ts';
import { sha256 } from '../../base/sha256.ts';
import { listName, readList } from '../../publishing/file-list.ts';
import type { ServerThreads } from '../tasks/threads.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { inputIn, placeIn, runFolderIn } from '../workshop/workshop.ts';

/**
 * The run folders of the workshop. Each is proven again whenever anything in it has changed, and held against
 * its run whenever anything of that has.
 */
export interface RunFolders {
  /** Reads a run folder with its proof and its standing. Throws a Refusal where it is no run folder. */
  readonly folder: (run: string) => Promise<RunFolder>;
  /**
   * Reads a file of a run folder. Throws a Refusal where the proof, as it finds the folder now, keeps
   * it from being given out, or where the run has changed since.
   */
  readonly file: (
    run: string,
    name: string,
  ) => Promise<{ file: FolderFile; bytes: Uint8Array<ArrayBuffer> }>;
  /**
   * A program of a run folder, ready to be played (see `rehearsalBody`). Throws a Refusal where there
   * is none, or where the run has changed since.
   */
  readonly rehearsal: (run: string, lay: string) => Promise<ArrayBuffer>;
  /** Has a run folder proven, and the program read back that is most likely played next; it does not wait for it. */
  readonly getReady: (run: string) => void;
  /** What can be printed of a run folder. */
  readonly papers: (run: string) => Promise<RunPapers>;
  /** Papers of a run folder in one PDF. Throws a Refusal where one of them is not what was proven. */
  readonly print: (run: string, wish: PrintWish) => Promise<Uint8Array<ArrayBuffer>>;
  /** All of a run folder in one zip. Throws a Refusal where it is not proven, or the run has changed since. */
  readonly zip: (run: string) => Promise<Uint8Array<ArrayBuffer>>;
}

/** Names of programs of a whole lay, which are neither dry nor of one bite. */
const isWhole = /^(?!.*\.(?:dry|bite-\d+)\.nc$).*\.nc$/;

/** How many programs are kept ready to be played. */
const mostPlayed = 8;

/** What a thread found, and what its files were like then. */
interface Known<T> {
  readonly stamp: string;
  readonly value: T;
}

export function openRunFolders(shop: Workshop, threads: ServerThreads): RunFolders {
  const known = new Map<string, Known<ProvenFolder>>();
  const proving = new Map<string, Known<Promise<ProvenFolder>>>();
  const proven = async (run: string): Promise<ProvenFolder> => {
    const stamp = stampOf(runFolderIn(shop, run));
    const before = known.get(run);
    if (before?.stamp === stamp) return before.value;
    // Whoever asks while it is being proven waits for the same proof.
    const underWay = proving.get(run);
    if (underWay?.stamp === stamp) return underWay.value;
    const value = threads.run('folder', { shop, run });
    proving.set(run, { stamp, value });
    playReady(run);
    try {
      const found = await value;
      known.set(run, { stamp, value: found });
      return found;
    } finally {
      if (proving.get(run)?.value === value) proving.delete(run);
    }
  };
  const standings = new Map<string, Known<RunStanding> & { readonly read: readonly string[] }>();
  const standing = async (run: string): Promise<RunStanding> => {
    const record = join(runFolderIn(shop, run), 'run.json');
    const before = standings.get(run);
    if (before?.stamp === standingStamp(shop, before?.read ?? [])) return before.value;
    const read = inputsOf(record);
    const stamp = standingStamp(shop, read);
    const value = await threads.run('standing', { shop, run });
    standings.set(run, { stamp, read, value });
    return value;
  };
  const folder = async (run: string): Promise<RunFolder> => {
    const [one, stands] = await Promise.all([proven(run), standing(run)]);
    const isOlder = stands.changes.length > 0;
    const files = one.files.map((file) =>
      isOlder && isForMachine(file.what) ? { ...file, offered: false } : file,
    );
    return { ...one, ...stands, files };
  };
  const played = new Map<string, { stamp: string; body: Promise<ArrayBuffer> }>();
  const rehearsed = async (run: string, lay: string): Promise<ArrayBuffer> => {
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
    if (!existsSync(join(runFolderIn(shop, run), 'run.json'))) return;
    // What is wrong with it is told when it is asked for.
    folder(run).catch(() => {});
    playReady(run);
  };
  const playReady = (run: string): void => {
    const path = runFolderIn(shop, run);
    if (!existsSync(join(path, 'run.json'))) return;
    const largest = readdirSync(path)
      .filter((name) => isWhole.test(name))
      .map((name) => ({ name, size: lstatSync(join(path, name)).size }))
      .sort((a, b) => b.size - a.size)[0];
    // What is wrong with it is told when it is asked for.
    if (largest !== undefined) {
      rehearsed(run, largest.name.replace(/\.nc$/, '')).catch(() => {});
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
    rehearsal: async (run, lay) => {
      const [body, { changes }] = await Promise.all([rehearsed(run, lay), standing(run)]);
      refuseOlder(changes);
      return body;
    },
    getReady,
    file: (run, name) =>
      unchanged(run, ({ files, changes }) => {
        const file = files.find((one) => one.name === name);
        if (file === undefined) {
          return refuse('file', `run "${run}" has no file "${name}".`, 'Open the run again.');
        }
        if (isForMachine(file.what)) refuseOlder(changes);
        if (!file.offered) refuseUnproven();
        const path = runFolderIn(shop, run);
        const bytes = readFileSync(placeIn(path, name));
        // A change that keeps size and time of the file would not show otherwise.
        if (name !== listName && readList(path).get(name) !== sha256(bytes)) refuseUnproven();
        return { file, bytes };
      }),
    papers: (run) => unchanged(run, () => threads.run('papers', { shop, run })),
    print: (run, wish) => unchanged(run, () => threads.run('print', { shop, run, wish })),
    zip: (run) =>
      unchanged(run, (now) => {
        refuseOlder(now.changes);
        return now.proven ? threads.run('zip', { shop, run }) : refuseUnproven();
      }),
  };
}

function refuseUnproven(): never {
  return refuse(
    'not-proven',
    'the proof of this run fails, so nothing of it is given to a machine.',
    'Read what the proof found, and make the files anew.',
  );
}

/** Refuses files that are older than their run. */
function refuseOlder(changes: readonly string[]): void {
  if (changes.length === 0) return;
  refuse(
    'older-than-run',
    `these files were made before ${firstAndMore(changes)}, so nothing of them is given to a machine.`,
    'Make the files anew.',
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

/**
 * Tells whether what the standing of a run hangs on has changed: all records, and the files that it was made
 * from, with the CSV that its run file names by now; the size and the time of each.
 */
function standingStamp(shop: Workshop, read: readonly string[]): string {
  const inputs = read.flatMap((file) => inputIn(shop, file) ?? []);
  const runFile = inputs.find((path) => /\.ya?ml$/.test(path) && dirname(path) === shop.patterns);
  const csv = runFile === undefined || !existsSync(runFile) ? null : ordersFileOf(runFile);
  const records = existsSync(shop.out) ? readdirSync(shop.out).sort() : [];
  return [
    ...records.map((name) => join(shop.out, name, 'run.json')),
    ...inputs,
    ...(csv === null ? [] : [csv]),
  ]
    .map((path) => (existsSync(path) ? statSync(path) : null))
    .map((stat) => (stat === null ? 'gone' : `${stat.size} ${stat.mtimeMs}`))
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
