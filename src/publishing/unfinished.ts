import { readdirSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { threadId } from 'node:worker_threads';

/**
 * What stands beside a file or folder while it is written: the new one (`partial`) under this name until
 * it is whole, and the one before (`old`) while both change places. The name says which process and which
 * of its threads writes.
 */
type Unfinished = 'partial' | 'old';

const pattern = /^(.*)\.(partial|old)-(\d+)-(\d+)$/s;

/** The name under which this thread writes what will be called `target`. */
export function unfinishedName(target: string, what: Unfinished): string {
  return `${target}.${what}-${process.pid}-${threadId}`;
}

/** Whether a name is one of something that is being written, or that a killed program left. */
export function isUnfinished(name: string): boolean {
  return pattern.test(name);
}

/** Something unfinished beside its target. */
export interface Leftover {
  readonly path: string;
  readonly what: Unfinished;
  /** The process that writes it, or wrote it. */
  readonly process: number;
  /** Whether that process may still be at work on it. */
  readonly isAtWork: boolean;
}

/** What stands beside a target that is, or was, being written. Empty where its folder cannot be read. */
export function leftoversOf(target: string): Leftover[] {
  const parent = dirname(target);
  return namesIn(parent).flatMap((name): Leftover[] => {
    const [, of, what, pid, thread] = pattern.exec(name) ?? [];
    if (of !== basename(target)) return [];
    const [writer, writing] = [Number(pid), Number(thread)];
    const isOwn = writer === process.pid && writing === threadId;
    return [
      {
        path: join(parent, name),
        what: what as Unfinished,
        process: writer,
        isAtWork: !isOwn && isRunning(writer),
      },
    ];
  });
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}

/** Whether a process of that number runs. One that this user may not signal runs too. */
function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
