import { useEffect } from 'preact/hooks';
import type { RunFolder } from '../../api/files.ts';
import { calls } from '../server/calls.ts';

/** How often a run folder is looked at, ms. */
const look = 4000;

/**
 * Looks now and then whether a run folder still stands as it is shown: an editor or the command line may have changed it
 * or its run, and nobody tells that.
 */
export function useStillSo(folder: RunFolder | null, changed: () => void): void {
  useEffect(() => {
    if (folder === null) return;
    let isAsking = false;
    const ask = async (): Promise<void> => {
      isAsking = true;
      try {
        const now = await calls.proof(folder.name);
        const isSame =
          now.proven === folder.proven &&
          now.fingerprint === folder.fingerprint &&
          now.changes.join() === folder.changes.join();
        if (!isSame) changed();
      } catch {
        // A server that is gone is told elsewhere, and a folder that is gone when it is next asked for.
      }
      isAsking = false;
    };
    const timer = setInterval(() => {
      if (!document.hidden && !isAsking) void ask();
    }, look);
    return () => clearInterval(timer);
  }, [folder]);
}
