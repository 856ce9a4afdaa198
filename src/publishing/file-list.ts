import { existsSync, lstatSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { refuse } from '../base/findings.ts';
import { withdrawnEnding } from '../base/names.ts';
import { sha256 } from '../base/sha256.ts';

/**
 * The list of all files of a folder, itself excepted, with the SHA-256 of each. Its format is that of
 * `sha256sum`, so that the tools of any system can check it too.
 */
export const listName = 'SHA256SUMS';

/** SHA-256 of each file, 64 hex digits, by its name in the folder; names below it are `folder/name`. */
export type FileList = ReadonlyMap<string, string>;

/** The text of a list. */
export function listText(list: FileList): string {
  const lines = [...list].sort(([a], [b]) => (a < b ? -1 : 1));
  return lines.map(([name, hash]) => `${hash}  ${name}\n`).join('');
}

/** The list in a folder. Throws a Refusal where there is none, or where it is none. */
export function readList(folder: string): FileList {
  const file = join(folder, listName);
  const todo = 'Nobody can tell what belongs in this folder. Move it away, and make it anew.';
  if (!isFile(file))
    return refuse('file-list', `the list of its files is missing.`, todo, { file });
  const lines = readFileSync(file, 'utf8').split('\n');
  if (lines.at(-1) === '') lines.pop();
  const list = new Map<string, string>();
  for (const [i, text] of lines.entries()) {
    const [, hash, name] = /^([0-9a-f]{64}) [ *](.+?)\r?$/.exec(text) ?? [];
    if (hash === undefined || name === undefined || list.has(name)) {
      const message = `this line of the list of files ${hash === undefined ? 'is no SHA-256 with the name of a file' : 'names a file for the second time'}.`;
      return refuse('file-list', message, todo, { file, line: i + 1 });
    }
    list.set(name, hash);
  }
  return list;
}

/** How a folder differs from its list. */
export interface FolderChanges {
  /** Names of files that are no longer as they were written; a withdrawn one by the name it had. */
  readonly changed: readonly string[];
  readonly missing: readonly string[];
  /** What is in the folder and not on the list: files and links, and folders with nothing listed in them. */
  readonly strangers: readonly string[];
  /** Listed programs that a proof has withdrawn. */
  readonly withdrawn: readonly string[];
}

/** Compares a folder with a list of what it should hold. What systems leave by themselves is no stranger. */
export function changesSince(folder: string, list: FileList): FolderChanges {
  const found = new Set(namesBelow(folder));
  const places = [...list].map(([name, hash]) => {
    const isWithdrawn = !found.has(name) && found.has(name + withdrawnEnding);
    return { name, hash, isWithdrawn, at: isWithdrawn ? name + withdrawnEnding : name };
  });
  const known = new Set([listName, ...places.map(({ at }) => at)]);
  const there = places.filter(({ at }) => found.has(at));
  return {
    changed: there
      .filter(({ at, hash }) => hashOf(join(folder, at)) !== hash)
      .map(({ name }) => name),
    missing: places.filter(({ at }) => !found.has(at)).map(({ name }) => name),
    strangers: [...found].filter((name) => !known.has(name) && !isLitter(name)),
    withdrawn: there.filter(({ isWithdrawn }) => isWithdrawn).map(({ name }) => name),
  };
}

/** Files that systems put into folders by themselves, in lower case. They hold nothing of anybody's. */
const litter: ReadonlySet<string> = new Set(['.ds_store', 'thumbs.db', 'desktop.ini']);

function isLitter(name: string): boolean {
  return litter.has(name.split('/').at(-1)!.toLowerCase());
}

/**
 * All that lies in a folder, as `name` or `folder/name`, sorted: files, links, and empty folders as
 * `folder/`. Links are not followed.
 */
function namesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true })
    .flatMap((entry) => {
      const below = entry.isDirectory() ? namesBelow(join(folder, entry.name)) : [];
      if (below.length > 0) return below.map((name) => `${entry.name}/${name}`);
      return [entry.isDirectory() ? `${entry.name}/` : entry.name];
    })
    .sort();
}

/** The hash of a file; of anything else, and of what cannot be read, there is none. */
function hashOf(file: string): string | null {
  try {
    return isFile(file) ? sha256(readFileSync(file)) : null;
  } catch {
    return null;
  }
}

function isFile(file: string): boolean {
  return existsSync(file) && lstatSync(file).isFile();
}
