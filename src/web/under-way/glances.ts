import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { RunGlance } from '../api/runs.ts';
import type { ServerThreads } from '../tasks/threads.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFileIn, runFolderIn } from '../workshop/workshop.ts';

/** What is seen of runs from afar, found anew only where the run file or its files have changed, or after a while. */
export interface Glances {
  readonly of: (run: string) => Promise<RunGlance>;
}

/** Sets and materials may have changed as well; nobody needs to see that from afar sooner than after so many ms. */
const stale = 60_000;

export function openGlances(shop: Workshop, threads: ServerThreads): Glances {
  const known = new Map<
    string,
    { readonly stamp: string; readonly at: number; readonly glance: Promise<RunGlance> }
  >();
  return {
    of: (run) => {
      const stamp = [runFileIn(shop, run), join(runFolderIn(shop, run), 'run.json')]
        .map((file) => (existsSync(file) ? statSync(file).mtimeMs : 'none'))
        .join(' ');
      const before = known.get(run);
      if (before?.stamp === stamp && Date.now() - before.at < stale) return before.glance;
      const glance = threads.run('glance', { shop, run });
      glance.catch(() => known.delete(run));
      known.set(run, { stamp, at: Date.now(), glance });
      return glance;
    },
  };
}
