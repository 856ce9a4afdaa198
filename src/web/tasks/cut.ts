import { cut } from '../../jobs/cut.ts';
import type { Finding } from '../../base/findings.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFileIn, runFolderIn } from '../workshop/workshop.ts';

/**
 * Cuts a run as the command line does, over an earlier run of that name. What the run file has laid
 * stays; what it has not is searched for with its effort. Throws a Refusal.
 */
export async function cutRun({
  shop,
  run,
}: {
  shop: Workshop;
  run: string;
}): Promise<{ findings: readonly Finding[] }> {
  const { findings } = await cut({
    runFile: runFileIn(shop, run),
    sharedFolder: shop.shared,
    out: runFolderIn(shop, run),
    force: true,
  });
  return { findings };
}
