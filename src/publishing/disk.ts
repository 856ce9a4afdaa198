import { existsSync, mkdirSync } from 'node:fs';
import { platform } from 'node:os';
import { dirname } from 'node:path';
import { refuse } from '../base/findings.ts';

/** On Windows the same code stands for a file that another program has open. */
const noPermission = `there is no permission to write here${platform() === 'win32' ? ', or another program has a file here open' : ''}.`;

/** Why a step on the disk failed, by the system's code. */
const reasons: Readonly<Record<string, string>> = {
  EACCES: noPermission,
  EPERM: noPermission,
  EBUSY: 'another program has a file here open.',
  EROFS: 'this disk is read-only.',
  ENOSPC: 'the disk is full.',
  ENOTDIR: 'this or what it lies in is a file, not a folder.',
  EEXIST: 'what it lies in is a file, not a folder.',
  ENOTEMPTY: 'something else was put here meanwhile.',
  ENAMETOOLONG: 'this name is too long.',
  ELOOP: 'this is a link that leads back to itself.',
};

/**
 * Runs a step that uses the disk. If the system reports an error, throws a Refusal that says it in words,
 * with `todo` for what to do.
 */
export function onDisk<T>(file: string, todo: string, step: () => T): T {
  try {
    return step();
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    return refuse('target', reasons[code] ?? `writing failed (${code}).`, todo, { file });
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
export function isRoot(folder: string): boolean {
  return dirname(folder) === folder;
}
