import { existsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Job } from '../../run/job.ts';
import { readJob } from '../../run/job.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFileIn } from '../workshop/workshop.ts';

interface KnownJob {
  readonly job: Job;
  readonly stamp: string;
}

const known = new Map<string, KnownJob>();

/**
 * The job of a run file. It is read again only where one of the files that it comes from has changed.
 * Throws a Refusal where the run is refused.
 */
export function jobOf(shop: Workshop, run: string): Job {
  const file = runFileIn(shop, run);
  const before = known.get(file);
  if (before !== undefined && stampOf(before.job, file) === before.stamp) return before.job;
  known.delete(file);
  const job = readJob(file, shop.shared);
  known.set(file, { job, stamp: stampOf(job, file) });
  return job;
}

/** Tells whether files have changed: the size and the time of each file that was read. */
function stampOf({ inputs }: Job, file: string): string {
  return inputs
    .map((input) => {
      const path = join(dirname(file), input.file);
      if (!existsSync(path)) return `${path} gone`;
      const { size, mtimeMs } = statSync(path);
      return `${path} ${size} ${mtimeMs}`;
    })
    .join('\n');
}
