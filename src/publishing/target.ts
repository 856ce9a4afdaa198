import {
  accessSync,
  constants,
  existsSync,
  lstatSync,
  readdirSync,
  realpathSync,
  rmdirSync,
  rmSync,
  statSync,
} from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import { refuse, Refusal } from '../base/findings.ts';
import { whyNotPortable } from '../base/names.ts';
import { shownNames } from '../base/wording.ts';
import { isRoot, makeFolder, onDisk } from './disk.ts';
import { changesSince, listName, readList } from './file-list.ts';
import { rename } from './rename.ts';
import type { Leftover } from './unfinished.ts';
import { leftoversOf, unfinishedName } from './unfinished.ts';

/** How to recognise a folder that this product has written, and may therefore write over. */
export interface FolderKind {
  readonly what: string;
  /** The name of a file that every such folder has on its list. */
  readonly mark: string;
}

export const runFolder: FolderKind = { what: 'run', mark: 'run.json' };
export const derivedFolder: FolderKind = { what: 'derived set', mark: 'changes.csv' };

const another = 'Mend that, or name another folder with --out.';

/** A folder that only this thread writes to, until it lets go of it. */
export interface Target {
  /** Its name as it was asked for; a link stays a link. */
  readonly asked: string;
  /** The empty folder beside it in which the new files are gathered. */
  readonly partial: string;
  /** Whether a list of its files is written too, so that it may be written over later. */
  readonly isListed: boolean;
  /** Puts what was gathered in the place of the target. Throws a Refusal, and then the target is as before. */
  readonly replace: () => void;
  /** Lets go of the target, and removes what was gathered and not put in its place. */
  readonly release: () => void;
}

/**
 * Keeps a folder for what is to be written to it, before any work is done, and removes what a killed
 * program left beside it. With `force` a folder of this kind may be written over, as long as it holds
 * nothing but what an earlier run wrote. `kind` null: nothing is ever written over. A link to a folder
 * stands for that folder. Throws a Refusal that says what stands in the way.
 */
export function claimTarget(asked: string, kind: FolderKind | null, force: boolean): Target {
  const why = whyNotPortable(basename(resolve(asked)));
  if (why !== null) {
    const todo = 'Choose another name: folders travel to other systems.';
    refuse('target', `the name of this folder ${why}.`, todo, { file: asked });
  }
  checkParent(dirname(asked), asked);
  const folder = onDisk(asked, another, () => realFolder(asked));
  if (folder !== asked) checkParent(dirname(folder), asked);
  clearLeftovers(folder, asked);
  checkTarget(folder, asked, kind, force);
  const partial = unfinishedName(folder, 'partial');
  const made = missingAbove(partial);
  onDisk(asked, another, () => makeFolder(partial));
  const release = (): void => {
    rmSync(partial, { recursive: true, force: true, maxRetries: 5 });
    for (const parent of made) removeEmpty(parent);
  };
  try {
    // Another may have looked before this folder was made.
    refuseAtWork(leftoversOf(folder), asked);
  } catch (error) {
    release();
    throw error;
  }
  const replace = (): void => {
    // What was put into the target while this was at work is not lost either.
    checkTarget(folder, asked, kind, force);
    onDisk(asked, another, () => exchange(folder, partial));
  };
  return { asked, partial, isListed: kind !== null, replace, release };
}

/** The folders above one that are not there yet, the nearest first. */
function missingAbove(folder: string): string[] {
  const parent = dirname(folder);
  return existsSync(parent) || isRoot(parent) ? [] : [parent, ...missingAbove(parent)];
}

/** Removes a folder if nothing is in it. */
function removeEmpty(folder: string): void {
  if (existsSync(folder) && readdirSync(folder).length === 0) rmdirSync(folder);
}

/** The folder to which a link leads; anything else is itself. */
function realFolder(folder: string): string {
  if (!(lstatSync(folder, { throwIfNoEntry: false })?.isSymbolicLink() ?? false)) return folder;
  if (existsSync(folder)) return realpathSync(folder);
  return refuse('target', 'this is a link that leads nowhere.', 'Mend it, or name a folder.', {
    file: folder,
  });
}

/**
 * Refuses if `folder` cannot be made, because its nearest parent that exists is a file or cannot be
 * written to.
 */
function checkParent(parent: string, folder: string): void {
  if (!existsSync(parent)) {
    if (!isRoot(parent)) checkParent(dirname(parent), folder);
  } else if (statSync(parent).isDirectory()) {
    onDisk(folder, another, () => accessSync(parent, constants.W_OK | constants.X_OK));
  } else {
    const message = `${parent} is a file, not a folder.`;
    refuse('target', message, 'Name another folder with --out.', { file: folder });
  }
}

/**
 * Removes what killed programs left beside a target. If one was killed while the old folder and the new one
 * changed places, the old one gets its name back. Refuses if another program is at work.
 */
function clearLeftovers(folder: string, asked: string): void {
  const leftovers = leftoversOf(folder);
  refuseAtWork(leftovers, asked);
  onDisk(asked, another, () => clear(folder, leftovers));
}

/**
 * Removes what a thread of this process that was ended in the midst of its work left beside a target; an old
 * folder that had lost its name gets it back. No other thread may be at work on it.
 */
export function clearAfterThread(asked: string): void {
  const folder = realFolder(asked);
  const own = leftoversOf(folder).filter((one) => one.process === process.pid);
  onDisk(asked, another, () => clear(folder, own));
}

function clear(folder: string, leftovers: readonly Leftover[]): void {
  for (const { path, what } of leftovers) {
    if (what === 'old' && !existsSync(folder)) rename(path, folder);
    else rmSync(path, { recursive: true, force: true, maxRetries: 5 });
  }
}

function refuseAtWork(leftovers: readonly Leftover[], asked: string): void {
  const other = leftovers.find(({ isAtWork }) => isAtWork);
  if (other === undefined) return;
  refuse(
    'target',
    `another program (process ${other.process}) is writing here just now.`,
    `Wait for it, or name another folder with --out. If nothing is at work, delete ${other.path}.`,
    { file: asked },
  );
}

function checkTarget(folder: string, asked: string, kind: FolderKind | null, force: boolean): void {
  if (!existsSync(folder)) return;
  const names = onDisk(asked, another, () => readdirSync(folder));
  onDisk(asked, another, () => accessSync(folder, constants.W_OK));
  if (names.length === 0) return;
  if (kind === null) {
    refuse('target', 'this exists already.', 'Name another.', { file: asked });
  }
  const { what, mark } = kind;
  if (!names.includes(mark)) {
    const message = `this folder holds something that is not a ${what} (${shownNames(names, 1)}).`;
    refuse('target', message, 'Name another one with --out.', { file: asked });
  }
  if (!force) {
    const todo = 'Add --force to write it anew, or name another one with --out.';
    refuse('target', `this ${what} exists already.`, todo, { file: asked });
  }
  refuseLosses(folder, asked, kind);
}

/** Refuses to write over a folder that holds anything but what an earlier run wrote. */
function refuseLosses(folder: string, asked: string, { what, mark }: FolderKind): void {
  const list = readList(folder);
  if (!list.has(mark)) {
    const message = `the list of its files (${listName}) is not that of a ${what}.`;
    refuse('target', message, 'Name another one with --out.', { file: asked });
  }
  const { strangers, changed } = changesSince(folder, list);
  const todo = `Move ${strangers.length + changed.length === 1 ? 'it' : 'them'} away or delete ${strangers.length + changed.length === 1 ? 'it' : 'them'}, or name another folder with --out.`;
  const where = { file: asked };
  const findings = [
    ...(strangers.length === 0
      ? []
      : [`this folder holds what the ${what} did not write: ${shownNames(strangers)}.`]),
    ...(changed.length === 0
      ? []
      : [`what the ${what} wrote was changed since: ${shownNames(changed)}.`]),
  ].map((message) => ({ severity: 'error', rule: 'target', message, todo, where }) as const);
  if (findings.length > 0) throw new Refusal(findings);
}

/** Puts the new folder in the place of the old one. If that fails, puts the old one back. */
function exchange(folder: string, partial: string): void {
  const old = unfinishedName(folder, 'old');
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
