import type { Finding } from '../base/findings.ts';
import { openHost, threadFile } from '../base/threads/host.ts';

/** A proof of what the machine reads, in a thread of its own. */
export interface ProofBeside {
  /** The faults that machineFaults finds. Throws what it throws. */
  readonly faults: Promise<readonly Finding[]>;
  /** Ends the thread, whatever it is at. */
  readonly close: () => Promise<unknown>;
}

/** What that thread can do. */
export const loadProof = async () => {
  const { machineFaults } = await import('./prove.ts');
  return { faults: (folder: string): readonly Finding[] => machineFaults(folder) };
};

/**
 * Begins to prove programs and drawings as they stand in a folder, while whoever asked goes on with what the
 * machine does not read. Nothing but the folder's name is handed over: what is judged is read from the disk.
 */
export function proveBeside(folder: string): ProofBeside {
  const host = openHost({
    entry: threadFile('proof-thread.js', import.meta.url),
    load: loadProof,
  });
  const faults = host.run('faults', folder);
  // Whoever asked may have failed before it waits for this.
  faults.catch(() => {});
  return { faults, close: host.close };
}
