import { performance } from 'node:perf_hooks';
import type { Terminal } from './terminal.ts';

/** Writes one line that is written over whenever a shorter lay is found; nothing where nobody watches. */
export function progressOf({ progress }: Pick<Terminal, 'progress'>): (found: Found) => void {
  const start = performance.now();
  let current: string | undefined;
  let shortest = Infinity;
  return ({ of, length, words }) => {
    if (progress === null || (of === current && length >= shortest)) return;
    current = of;
    shortest = length;
    const elapsed = ((performance.now() - start) / 1000).toFixed(1);
    progress(`${elapsed} s, ${words()}`);
  };
}

/** A lay that was found. */
interface Found {
  /** What it is a lay of; the next one's first lay is told whatever its length. */
  readonly of: string;
  readonly length: number;
  readonly words: () => string;
}
