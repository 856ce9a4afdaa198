import { existsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Job } from '../../run/job.ts';
import { jobWithRolls, readJob } from '../../run/job.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFileIn } from '../workshop/workshop.ts';

interface KnownJob {
  readonly job: Job;
  /** Of the run file, and of all others. */
  readonly stamps: { readonly run: string; readonly others: string };
}

const known = new Map<string, KnownJob>();

/**
 * The job of a run file. It is read again only where one of the files that it comes from has changed, and
 * derived again only where more than its rolls has. Throws a Refusal where the run is refused.
 */
export function jobOf(shop: Workshop, run: string): Job {
  const file = runFileIn(shop, run);
  const before = known.get(file);
  const now = before === undefined ? null : stampsOf(before.job, file);
  const isSame = now?.others === before?.stamps.others;
  if (before !== undefined && isSame && now?.run === before.stamps.run) return before.job;
  known.delete(file);
  const job =
    (before !== undefined && isSame ? jobWithRolls(before.job) : null) ??
    readJob(file, shop.shared);
  known.set(file, { job, stamps: stampsOf(job, file) });
  return job;
}

/** Tells whether files have changed: the size and the time of each file that was read. */
function stampsOf({ inputs }: Job, file: string): KnownJob['stamps'] {
  const stampOf = (path: string): string => {
    if (!existsSync(path)) return `${path} gone`;
    const { size, mtimeMs } = statSync(path);
    return `${path} ${size} ${mtimeMs}`;
  };
  const others = inputs
    .map((input) => join(dirname(file), input.file))
    .filter((path) => path !== join(file));
  return { run: stampOf(file), others: others.map(stampOf).join('\n') };
}
