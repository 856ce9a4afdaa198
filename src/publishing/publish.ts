import type { Hash } from 'node:crypto';
import { createHash } from 'node:crypto';
import { closeSync, openSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { hasErrors, refuse, Refusal } from '../base/findings.ts';
import { whyNotPortable } from '../base/names.ts';
import { makeFolder, onDisk } from './disk.ts';
import { listName, listText } from './file-list.ts';
import type { Target } from './target.ts';
import { claimTarget } from './target.ts';

const another = 'Nothing was kept. Mend that, or name another folder with --out.';

/** A text, a text in pieces, or bytes. */
export type FileContent = string | Uint8Array | Iterable<string>;

/** Files that are gathered beside a target until they are whole and checked. */
export interface Publication {
  /**
   * Writes files, by their names in the folder. Throws a Refusal if a name is not one that every system
   * takes, also beside the names before.
   */
  readonly add: (files: ReadonlyMap<string, FileContent>) => void;
  /** Writes the list of all files so far: each hash is of what was meant to be written. */
  readonly list: () => void;
  /**
   * Puts what was gathered in the place of the target. Throws a Refusal if there are errors among the
   * findings of whoever checked it.
   */
  readonly finish: (findings: readonly Finding[]) => void;
}

/** Begins to gather files for a target. */
export function beginPublication({ asked, partial, isListed, replace }: Target): Publication {
  const hashes = new Map<string, string>();
  return {
    add: (files) => {
      checkNames([...hashes.keys(), ...files.keys()], asked);
      onDisk(asked, another, () => {
        for (const [name, content] of files) {
          makeFolder(dirname(join(partial, name)));
          hashes.set(name, writeContent(join(partial, name), content));
        }
      });
    },
    list: () => {
      if (!isListed) return;
      onDisk(asked, another, () => writeFileSync(join(partial, listName), listText(hashes)));
    },
    finish: (findings) => {
      if (hasErrors(findings)) throw new Refusal(findings.map((one) => named(one, partial, asked)));
      replace();
    },
  };
}

/**
 * Writes files beside the target, has them checked there, and only then puts them in its place. So what
 * stands under the target's name is always whole and checked. `files`: the content of each file by its
 * name in the folder. Throws a Refusal as a publication does.
 */
export function publish(
  target: Target,
  files: ReadonlyMap<string, FileContent>,
  check: (folder: string) => readonly Finding[],
): void {
  const publication = beginPublication(target);
  publication.add(files);
  publication.list();
  publication.finish(check(target.partial));
}

/** Refuses names that cannot stand beside each other in a folder on every system. */
function checkNames(names: readonly string[], asked: string): void {
  const todo = 'Rename the piece, roll, material or order that it comes from.';
  const taken = new Map<string, string>();
  for (const name of names) {
    const why = name
      .split('/')
      .map(whyNotPortable)
      .find((one) => one !== null);
    if (why !== undefined) {
      refuse('file-name', `a file here would be called ${name}, which ${why}.`, todo, {
        file: asked,
      });
    }
    const other = taken.get(name.toLowerCase());
    if (other !== undefined) {
      const message = `two files here would be called ${other} and ${name}, and some systems take large and small letters for the same.`;
      refuse('file-name', message, todo, { file: asked });
    }
    taken.set(name.toLowerCase(), name);
  }
}

/** Claims a folder, publishes into it, and lets go of it: for work that is done by then. */
export function publishAtOnce(
  claim: Parameters<typeof claimTarget>,
  files: ReadonlyMap<string, FileContent>,
  check: (folder: string) => readonly Finding[],
): void {
  const target = claimTarget(...claim);
  try {
    publish(target, files, check);
  } finally {
    target.release();
  }
}

/** So many characters are gathered before they are written. */
const blockSize = 1 << 20;

/**
 * Writes a file, and returns the SHA-256 of its content. A text in pieces is written block by block, so
 * that it is never held as a whole.
 */
function writeContent(file: string, content: FileContent): string {
  const hash = createHash('sha256');
  const handle = openSync(file, 'w');
  try {
    for (const block of blocksOf(content)) writeBlock(handle, block, hash);
  } finally {
    closeSync(handle);
  }
  return hash.digest('hex');
}

function* blocksOf(content: FileContent): Generator<string | Uint8Array> {
  if (typeof content === 'string' || content instanceof Uint8Array) {
    yield content;
    return;
  }
  let block = '';
  for (const piece of content) {
    block += piece;
    if (block.length < blockSize) continue;
    yield block;
    block = '';
  }
  yield block;
}

function writeBlock(handle: number, block: string | Uint8Array, hash: Hash): void {
  writeFileSync(handle, block);
  hash.update(block);
}

/** The finding with the folder that was asked for in place of the partial one. */
function named(finding: Finding, partial: string, folder: string): Finding {
  const { file } = finding.where;
  if (file === undefined) return finding;
  return { ...finding, where: { ...finding.where, file: file.replace(partial, folder) } };
}
