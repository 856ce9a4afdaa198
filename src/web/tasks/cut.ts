import type { Finding } from '../../base/findings.ts';
import { isAsMade, listOf } from '../../jobs/as-made.ts';
import { cut } from '../../jobs/cut.ts';
import type { CutProgress } from '../../jobs/cut-progress.ts';
import { progressAt } from '../../jobs/cut-progress.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFileIn, runFolderIn } from '../workshop/workshop.ts';

/** The files of a run, made by the server. */
export interface MadeFiles {
  /** What is worth a look in the run. null: its files are these already, and none was made anew. */
  readonly findings: readonly Finding[] | null;
  /** What tells them from all others. */
  readonly list: string | null;
}

/**
 * Makes the files of a run as the command line does, in the place of an earlier run folder of that
 * name. Parts that the run file has laid stay where they are; for the others a lay is searched with the
 * effort that the file names. `made`: the list of the files that this server made last; where they are those
 * of the run as it stands, they stay. Throws a Refusal where the run is refused or the work is stopped.
 */
export async function cutRun(
  { shop, run, made }: { shop: Workshop; run: string; made: string | null },
  {
    progress,
    signal,
  }: { readonly progress: (progress: CutProgress) => void; readonly signal: AbortSignal },
): Promise<MadeFiles> {
  const request = {
    runFile: runFileIn(shop, run),
    sharedFolder: shop.shared,
    out: runFolderIn(shop, run),
  };
  progress(progressAt('reading', 'looking at what has changed'));
  if (made !== null && isAsMade(request, made)) return { findings: null, list: made };
  const { findings } = await cut({ ...request, force: true, told: progress, signal });
  return { findings, list: listOf(request.out) };
}
