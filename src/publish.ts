import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Finding } from './findings.ts';
import { hasErrors, refuse, Refusal } from './findings.ts';

/** A name in every run folder: what tells one from a folder of something else. */
const runMark = 'run.json';

/** Refuses a folder that must not be written to, before any work is done. */
export function checkTarget(folder: string, force: boolean): void {
  if (!existsSync(folder)) return;
  const names = attempt(folder, () => readdirSync(folder));
  if (names.length === 0) return;
  if (!names.includes(runMark)) {
    refuse(
      'target',
      'this folder holds something that is not a run.',
      'Name another one with --out.',
      { file: folder },
    );
  }
  if (!force) {
    refuse(
      'target',
      'this run folder exists already.',
      'Add --force to write it anew, or name another one with --out.',
      { file: folder },
    );
  }
}

/**
 * Writes the files into a folder beside the target, has them checked there, and only then renames the
 * folder to the target: what stands under the target's name is whole and checked. Throws a Refusal
 * with the findings where the check finds errors, and leaves nothing behind then.
 */
export function publish(
  folder: string,
  files: ReadonlyMap<string, string>,
  check: (folder: string) => readonly Finding[],
): void {
  const partial = `${folder}.partial-${process.pid}`;
  try {
    attempt(folder, () => {
      mkdirSync(partial, { recursive: true });
      for (const [name, text] of files) writeFileSync(join(partial, name), text);
    });
    const findings = check(partial);
    if (hasErrors(findings)) throw new Refusal(findings);
    attempt(folder, () => replace(folder, partial));
  } finally {
    rmSync(partial, { recursive: true, force: true });
  }
}

function replace(folder: string, partial: string): void {
  const old = `${folder}.old-${process.pid}`;
  if (existsSync(folder)) renameSync(folder, old);
  renameSync(partial, folder);
  rmSync(old, { recursive: true, force: true });
}

/** Runs a step on the disk; its failure becomes words. */
function attempt<T>(folder: string, step: () => T): T {
  try {
    return step();
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    const reasons: Record<string, string> = {
      EACCES: 'there is no permission to write here.',
      EPERM: 'there is no permission to write here.',
      EROFS: 'this disk is read-only.',
      ENOSPC: 'the disk is full.',
      ENOTDIR: `${dirname(folder)} or something above it is a file, not a folder.`,
    };
    return refuse(
      'target',
      reasons[code] ?? `writing failed (${code}).`,
      'Nothing was kept. Mend that, or name another folder with --out.',
      { file: folder },
    );
  }
}
