import { laidRun, ordersOf, runFacts } from '../../src/jobs/cut.ts';
import type { CutRequest } from '../../src/jobs/cut.ts';
import { layMaterials } from '../../src/jobs/lay-materials.ts';
import { machineFiles } from '../../src/jobs/run-files.ts';
import type { RunFacts } from '../../src/papers/facts/run-facts.ts';
import { readJob } from '../../src/run/job.ts';

/** What a machine needs of a run, by name, and what papers say of it. */
export interface MadeRun {
  readonly facts: RunFacts;
  readonly files: ReadonlyMap<string, string>;
}

/** Makes a run as `cut` does, without its papers and its proof, which take most of the time, and writes nothing. */
export async function madeRun(
  request: Omit<CutRequest, 'out' | 'force'>,
  name: string,
): Promise<MadeRun> {
  const job = readJob(request.runFile, request.sharedFolder, request.cutter);
  const orders = ordersOf(job);
  const run = laidRun(job, orders, await layMaterials(job, request), name, request.seed);
  const machine = await machineFiles(run);
  const texts = [...machine.files].map(([file, content]): [string, string] => {
    if (content instanceof Uint8Array) throw new Error(`${file} is no text`);
    return [file, typeof content === 'string' ? content : [...content].join('')];
  });
  return { facts: runFacts(job, orders, run, machine), files: new Map(texts) };
}
