import { renameSync } from 'node:fs';

/** Codes with which Windows refuses to move what another program has open, or is only just looking at. */
const held: ReadonlySet<string> = new Set(['EPERM', 'EACCES', 'EBUSY']);

/** ms between one try and the next: 1.5 s in all, as long as a virus scanner holds a new file. */
const pauses = [20, 50, 100, 200, 400, 730];

/**
 * Renames a file or a folder, over a file that is there. On Windows that fails as long as another program has
 * it open, so it is tried again for a moment. Throws what the last try threw.
 */
export function rename(
  from: string,
  to: string,
  { move = renameSync, wait = pause }: Partial<Disk> = {},
): void {
  for (const ms of pauses) {
    try {
      move(from, to);
      return;
    } catch (error) {
      if (!held.has((error as NodeJS.ErrnoException).code ?? '')) throw error;
      wait(ms);
    }
  }
  move(from, to);
}

/** What a test may put in the place of the disk and of time. */
interface Disk {
  readonly move: (from: string, to: string) => void;
  readonly wait: (ms: number) => void;
}

function pause(ms: number): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ms);
}
