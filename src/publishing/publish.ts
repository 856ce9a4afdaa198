import {
  accessSync,
  closeSync,
  constants,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { platform } from 'node:os';
import { dirname, extname, join } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { hasErrors, refuse, Refusal } from '../base/findings.ts';
import { rename } from './rename.ts';

/** How to recognise a folder that this product has written, and may therefore write over. */
export interface FolderKind {
  readonly what: string;
  /** The name of a file that every such folder has. */
  readonly mark: string;
  /** The endings of its files. A folder that holds anything else is not written over. */
  readonly endings: ReadonlySet<string>;
  /** The names of folders that it may hold. */
  readonly folders: ReadonlySet<string>;
}

export const runFolder: FolderKind = {
  what: 'run',
  mark: 'run.json',
  endings: new Set(['.json', '.html', '.pdf', '.csv', '.svg', '.dxf', '.nc', '.withdrawn']),
  folders: new Set(),
};

export const derivedFolder: FolderKind = {
  what: 'derived set',
  mark: 'changes.csv',
  endings: new Set(['.csv', '.svg', '.dxf', '.yaml']),
  folders: new Set(['parts', 'set']),
};

/**
 * Refuses a folder that must not or cannot be written to, before any work is done. With `force` a folder
 * of this kind may be written over. Throws a Refusal.
 */
export function checkTarget(
  folder: string,
  { what, mark, endings, folders }: FolderKind,
  force: boolean,
): void {
  checkParent(dirname(folder), folder);
  if (!existsSync(folder)) return;
  const names = attempt(folder, () => namesIn(folder));
  attempt(folder, () => accessSync(folder, constants.W_OK));
  if (names.length === 0) return;
  const stranger = names.find((name) => !endings.has(extname(name)) && !folders.has(name));
  if (stranger !== undefined || !names.includes(mark)) {
    refuse(
      'target',
      `this folder holds something that is not a ${what}${stranger === undefined ? '' : ` (${stranger})`}.`,
      'Name another one with --out.',
      { file: folder },
    );
  }
  if (!force) {
    refuse(
      'target',
      `this ${what} exists already.`,
      'Add --force to write it anew, or name another one with --out.',
      { file: folder },
    );
  }
}

/** The names of all files and folders in a folder and below it; those below it as `folder/name`. */
function namesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort();
}

/**
 * Refuses if `folder` cannot be made, because its nearest parent that exists is a file or cannot be
 * written to.
 */
function checkParent(parent: string, folder: string): void {
  if (!existsSync(parent)) {
    if (!isRoot(parent)) checkParent(dirname(parent), folder);
  } else if (statSync(parent).isDirectory()) {
    attempt(folder, () => accessSync(parent, constants.W_OK | constants.X_OK));
  } else {
    refuse('target', `${parent} is a file, not a folder.`, 'Name another folder with --out.', {
      file: folder,
    });
  }
}

/**
 * Writes files into a new folder beside the target, has them checked there, and only then renames that
 * folder to the target. So what stands under the target's name is always whole and checked. `files`: the
 * content of each file by its name in the folder. If `check` finds errors, throws a Refusal with all that
 * it found and leaves nothing behind.
 */
export function publish(
  folder: string,
  files: ReadonlyMap<string, FileContent>,
  check: (folder: string) => readonly Finding[],
): void {
  const partial = `${folder}.partial-${process.pid}`;
  attempt(folder, () => makeFolder(partial));
  try {
    attempt(folder, () => {
      for (const [name, text] of files) {
        makeFolder(dirname(join(partial, name)));
        writePieces(join(partial, name), text);
      }
    });
    const findings = check(partial);
    if (hasErrors(findings)) throw new Refusal(findings.map((one) => named(one, partial, folder)));
    attempt(folder, () => replace(folder, partial));
  } finally {
    rmSync(partial, { recursive: true, force: true, maxRetries: 5 });
  }
}

/** A text, a text in pieces, or bytes. */
export type FileContent = string | Uint8Array | Iterable<string>;

/** So many characters are gathered before they are written. */
const blockSize = 1 << 20;

/** Writes a file. A text in pieces is written block by block, so that it is never held as a whole. */
function writePieces(file: string, text: FileContent): void {
  if (typeof text === 'string' || text instanceof Uint8Array) {
    writeFileSync(file, text);
    return;
  }
  const handle = openSync(file, 'w');
  try {
    let block = '';
    for (const piece of text) {
      block += piece;
      if (block.length < blockSize) continue;
      writeFileSync(handle, block);
      block = '';
    }
    writeFileSync(handle, block);
  } finally {
    closeSync(handle);
  }
}

/**
 * Makes a folder and the missing ones above it, one by one. If asked to make all at once, Node hangs in
 * folders like those of /proc.
 */
export function makeFolder(folder: string): void {
  if (existsSync(folder)) return;
  if (!isRoot(folder)) makeFolder(dirname(folder));
  mkdirSync(folder);
}

/** Whether a folder is the root of a drive. On Windows that drive may not exist. */
function isRoot(folder: string): boolean {
  return dirname(folder) === folder;
}

/** The finding with the folder that was asked for in place of the partial one. */
function named(finding: Finding, partial: string, folder: string): Finding {
  const { file } = finding.where;
  if (file === undefined) return finding;
  return { ...finding, where: { ...finding.where, file: file.replace(partial, folder) } };
}

/**
 * Takes the programs of a run folder out of the way of the machine: renames each `*.nc` to
 * `*.nc.withdrawn`, so that it can still be looked at. Returns the old names. Throws a Refusal if the
 * disk does not allow it.
 */
export function withdrawPrograms(folder: string): string[] {
  const programs = attempt(folder, () =>
    readdirSync(folder).filter((name) => name.endsWith('.nc')),
  );
  for (const name of programs) {
    attempt(folder, () => rename(join(folder, name), join(folder, `${name}.withdrawn`)));
  }
  return programs.sort();
}

/** Puts the new folder in the place of the old one. If that fails, puts the old one back. */
function replace(folder: string, partial: string): void {
  const old = `${folder}.old-${process.pid}`;
  const isThere = existsSync(folder);
  if (isThere) rename(folder, old);
  try {
    rename(partial, folder);
  } catch (error) {
    if (isThere) rename(old, folder);
    throw error;
  }
  rmSync(old, { recursive: true, force: true, maxRetries: 5 });
}

/** On Windows the same code stands for a file that another program has open. */
const noPermission = `there is no permission to write here${platform() === 'win32' ? ', or another program has a file here open' : ''}.`;

/** Why a step on the disk failed, by the system's code. */
export const reasons: Readonly<Record<string, string>> = {
  EACCES: noPermission,
  EPERM: noPermission,
  EBUSY: 'another program has a file here open.',
  EROFS: 'this disk is read-only.',
  ENOSPC: 'the disk is full.',
  ENOTDIR: 'this or what it lies in is a file, not a folder.',
  EEXIST: 'what it lies in is a file, not a folder.',
  ENAMETOOLONG: 'this name is too long.',
};

/**
 * Runs a step that uses the disk. If the system reports an error, throws a Refusal that says it in words.
 */
function attempt<T>(folder: string, step: () => T): T {
  try {
    return step();
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    return refuse(
      'target',
      reasons[code] ?? `writing failed (${code}).`,
      'Nothing was kept. Mend that, or name another folder with --out.',
      { file: folder },
    );
  }
}
