import type { TaskHost } from '../../base/threads/host.ts';
import { openHost, threadFile } from '../../base/threads/host.ts';
import type { Instance } from './instance.ts';
import { checkInstance, prepared } from './instance.ts';
import type { Layout } from './layout.ts';
import type { Look, Nest, Search } from './nest.ts';
import { beginSearch, nestOf } from './nest.ts';

/** How long is searched: so many rounds of moves in each stream, the same on any machine, or seconds. */
export type Limit = { readonly rounds: number } | { readonly seconds: number };

/** What the byte that ends a search may say: to give what is there, or the first layout with all care and no more. */
export const ending = { atOnce: 1, withFirst: 2 };

/** Streams of one thread. */
export interface StreamJob {
  readonly instance: Instance;
  /** One for each stream. */
  readonly seeds: readonly number[];
  readonly limit: Limit;
  /** One byte, set from outside to end the search early: see `ending`. */
  readonly stop: SharedArrayBuffer;
  /** When the search began, ms since the epoch. */
  readonly began: number;
  /** Whether somebody looks on while layouts are tried. */
  readonly watched?: boolean;
}

/** Who looks on. */
export interface Watch {
  /** Told of every shorter layout. */
  readonly found?: (nest: Nest) => void;
  /** Shown a few times a second what is being tried: its items may overlap. */
  readonly trying?: (nest: Nest) => void;
}

/** ms between two pictures of what is being tried. */
const pictureEvery = 150;

/** Searches that go on side by side, each its own way. */
const streams = 2;
/** Stages of a search; from `shared` on all streams begin each from the shortest layout that any of them has found. */
const stages = 10;
const shared = 8;

/** Streams in this thread: given the shortest layout of all, they go on from it to the end of a stage. */
export type RunStage = (stage: number, from: Layout | null) => BestOfStreams;

/** The shortest layout of a thread's streams, and the same for whoever asked. */
interface BestOfStreams {
  readonly layout: Layout;
  readonly nest: Nest;
}

export function openStreams(job: StreamJob, { found, trying }: Watch = {}): RunStage {
  const { instance, seeds, limit, stop, began } = job;
  const flag = new Uint8Array(stop);
  const stopped = (): boolean => Atomics.load(flag, 0) === ending.atOnce;
  const ended = (): boolean => Atomics.load(flag, 0) !== 0;
  const ready = prepared(instance, stopped);
  const searches: Search[] = [];
  let shown = 0;
  let look: Look | null = null;
  const show = (): void => {
    if (trying === undefined || look === null) return;
    const now = Date.now();
    if (now - shown < pictureEvery) return;
    shown = now;
    trying(look());
  };
  const begin = (seed: number): Search => {
    // Every other stream looks for no blocks that repeat.
    const blocksWanted = seed % streams === 0;
    let rounds = 0;
    const time = (): number =>
      'seconds' in limit ? (Date.now() - began) / 1000 / limit.seconds : 0;
    const used = (): number => {
      if (ended()) return Infinity;
      show();
      return 'rounds' in limit ? rounds++ / limit.rounds : time();
    };
    const budget = {
      used,
      over: () => ended() || time() >= 1,
      stopped,
      ...(found === undefined ? {} : { found }),
      // One stream is watched: two would be shown by turns.
      ...(trying === undefined || seed !== seeds[0]
        ? {}
        : { watch: (next: Look) => (look = next) }),
    };
    return beginSearch(ready, seed, budget, blocksWanted);
  };
  return (stage, from) => {
    for (const [i, seed] of seeds.entries()) {
      const search = (searches[i] ??= begin(seed));
      if (from !== null) search.adopt(from);
      search.until((stage + 1) / stages);
    }
    const layout = searches.reduce((best, one) =>
      one.best.length < best.best.length ? one : best,
    ).best;
    return { layout, nest: nestOf(ready, layout) };
  };
}

function shortest(all: readonly BestOfStreams[]): BestOfStreams {
  return all.reduce((best, one) => (one.nest.length < best.nest.length ? one : best));
}

/** Threads that search, for one search at a time. They stay warm: the next search begins sooner. */
export interface Engine {
  readonly threads: (count: number) => readonly TaskHost<StreamTasks>[];
  readonly close: () => void;
}

/** Opens an engine; its threads are started as they are needed. */
export function openEngine(): Engine {
  let hosts: TaskHost<StreamTasks>[] = [];
  return {
    threads: (count) => {
      hosts = hosts.filter((host) => host.isAlive());
      while (hosts.length < count) hosts.push(openHost(tasks));
      return hosts.slice(0, count);
    },
    // Nobody waits for the threads: to end one with a thousand shapes takes most of a second.
    close: () => {
      for (const host of hosts) void host.close();
    },
  };
}

/**
 * Lays an instance in several streams, spread over threads. Counted in rounds the result is the same
 * for any number of threads; in seconds a single thread runs a single stream. `engine`: where it is done; left out, in
 * threads that end with the search. Throws as prepared does.
 */
export async function nestInStreams(
  instance: Instance,
  {
    seed,
    limit,
    threads,
    stop,
    engine,
  }: Pick<StreamJob, 'limit' | 'stop'> & {
    readonly seed: number;
    readonly threads: number;
    readonly engine?: Engine;
  },
  watch: Watch = {},
): Promise<Nest> {
  // What makes no sense is refused here and not in a thread.
  checkInstance(instance);
  if (instance.kinds.every(({ demand }) => demand === 0)) return { length: 0, placements: [] };
  const count = 'seconds' in limit ? Math.min(streams, threads) : streams;
  const seeds = Array.from({ length: count }, (_, stream) => seed * streams + stream);
  const began = Date.now();
  const jobs = Array.from({ length: Math.min(threads, count) }, (_, thread): StreamJob => ({
    instance,
    seeds: seeds.filter((__, stream) => stream % threads === thread),
    limit,
    stop,
    began,
    watched: thread === 0 && watch.trying !== undefined,
  }));
  const heed = (news: StreamNews): void => {
    if ('found' in news) watch.found?.(news.found);
    else watch.trying?.(news.trying);
  };
  const own = engine ?? openEngine();
  const hosts = own.threads(jobs.length).map((host, i) => ({ job: jobs[i]!, host }));
  try {
    let best: BestOfStreams | null = null;
    for (let stage = 0; stage < stages; stage++) {
      const from = stage < shared || best === null ? null : (best as BestOfStreams).layout;
      const all = hosts.map(({ job, host }) =>
        host.run('stage', { job, stage, from }, { progress: heed }),
      );
      best = shortest(await Promise.all(all));
      if (Atomics.load(new Uint8Array(stop), 0) !== 0) break;
    }
    return best!.nest;
  } catch (error) {
    // The other threads may still be at it, and could not take the next search.
    own.close();
    throw error;
  } finally {
    if (engine === undefined) own.close();
  }
}

/** A stage for the streams of one thread; `from` as in RunStage. */
interface StageOrder {
  readonly job: StreamJob;
  readonly stage: number;
  readonly from: Layout | null;
}

/** What streams tell while they search: a shorter layout, or what is being tried. */
type StreamNews = { readonly found: Nest } | { readonly trying: Nest };

type StreamTasks = ReturnType<typeof streamTasks>;

/** What a thread of the search can do. Its streams stay as they are between two stages; the first stage begins others. */
export function streamTasks() {
  let run: RunStage | null = null;
  let tell: (news: StreamNews) => void = () => {};
  const stage = (
    { job, stage: number, from }: StageOrder,
    { progress }: { readonly progress: (news: StreamNews) => void },
  ): BestOfStreams => {
    tell = progress;
    if (number === 0) run = null;
    run ??= openStreams(job, {
      found: (nest) => tell({ found: nest }),
      ...(job.watched === true ? { trying: (nest) => tell({ trying: nest }) } : {}),
    });
    return run(number, from);
  };
  return { stage };
}

const tasks = {
  entry: threadFile('worker.js', import.meta.url),
  load: async () => streamTasks(),
};
