import { Worker } from 'node:worker_threads';
import type { Instance } from './instance.ts';
import { prepared } from './instance.ts';
import type { Nest } from './nest.ts';
import { nest } from './nest.ts';

/** How long is searched: so many rounds of moves in each stream, the same on any machine, or seconds. */
export type Limit = { readonly rounds: number } | { readonly seconds: number };

export interface StreamJob {
  readonly instance: Instance;
  readonly seed: number;
  readonly limit: Limit;
  /** One byte, set from outside to end the search early. */
  readonly stop: SharedArrayBuffer;
}

/** Searches that go on side by side, each its own way; the shortest layout of all is taken. */
export const streams = 2;

/** One stream from beginning to end; `found` is told of every shorter layout. */
export function runStream(
  { instance, seed, limit, stop }: StreamJob,
  found?: (nest: Nest) => void,
): Nest {
  const ready = prepared(instance);
  const flag = new Uint8Array(stop);
  const start = performance.now();
  let rounds = 0;
  const used = (): number => {
    if (Atomics.load(flag, 0) !== 0) return Infinity;
    if ('rounds' in limit) return rounds++ / limit.rounds;
    return (performance.now() - start) / 1000 / limit.seconds;
  };
  return nest(ready, seed, { used, ...(found === undefined ? {} : { found }) });
}

/**
 * Lays an instance in several streams, `threads` at a time. Counted in rounds the result is the same
 * for any number of threads; in seconds a single thread runs a single stream. Throws as prepared does.
 */
export async function nestInStreams(
  instance: Instance,
  { seed, limit, threads, stop }: Omit<StreamJob, 'instance'> & { readonly threads: number },
  found?: (nest: Nest) => void,
): Promise<Nest> {
  // What makes no sense is refused here and not in a thread.
  prepared(instance);
  const count = 'seconds' in limit ? Math.min(streams, threads) : streams;
  const jobs = Array.from({ length: count }, (_, stream): StreamJob => ({
    instance,
    seed: seed * streams + stream,
    limit,
    stop,
  }));
  const results: Nest[] = [];
  for (let i = 0; i < jobs.length; i += threads) {
    results.push(
      ...(await Promise.all(jobs.slice(i, i + threads).map((job) => inThread(job, found)))),
    );
  }
  return results.reduce((best, one) => (one.length < best.length ? one : best));
}

/** Sources that are run as they are, without having been built, have no file that a thread could load. */
const worker = import.meta.url.endsWith('.js') ? new URL('worker.js', import.meta.url) : null;

function inThread(job: StreamJob, found?: (nest: Nest) => void): Promise<Nest> {
  if (worker === null) return Promise.resolve(runStream(job, found));
  return new Promise((resolve, reject) => {
    const thread = new Worker(worker, { workerData: job });
    thread.on('message', ({ done, nest: result }: { done: boolean; nest: Nest }) => {
      if (done) resolve(result);
      else found?.(result);
    });
    thread.on('error', reject);
  });
}
