import type { Finding } from '../../base/findings.ts';
import { cut } from '../../jobs/cut.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFileIn, runFolderIn } from '../workshop/workshop.ts';

/**
 * Makes the files of a run as the command line does, in the place of an earlier run folder of that
 * name. Parts that the run file has laid stay where they are; for the others a lay is searched with the
 * effort that the file names. Throws a Refusal where the run is refused.
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
