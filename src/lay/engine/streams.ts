import type { TaskHost } from '../../base/threads/host.ts';
import { openHost, threadFile } from '../../base/threads/host.ts';
import type { Instance } from './instance.ts';
import { checkInstance, prepared } from './instance.ts';
import type { Layout } from './layout.ts';
import { scaledInstance, scaledNest, toUsualUnit } from './scale.ts';
import type { Look, Nest, Search } from './nest.ts';
import { beginSearch, nestOf } from './nest.ts';

/**
 * How long is searched, and in how many streams: so many rounds of moves in each of them, the same on any machine
 * (`usualStreams` if left out); or so many seconds, in one stream for each thread.
 */
export type Limit =
  | { readonly rounds: number; readonly streams?: number }
  | { readonly seconds: number };

/** What the byte that ends a search may say: to give what is there, or the first layout with all care and no more. */
export const ending = { atOnce: 1, withFirst: 2 };

/** Streams of one thread. */
export interface StreamJob {
  readonly instance: Instance;
  readonly streams: readonly Stream[];
  readonly limit: Limit;
  /** One byte, set from outside to end the search early: see `ending`. */
  readonly stop: SharedArrayBuffer;
  /** When the search began, ms since the epoch. */
  readonly began: number;
  /** Whether somebody looks on while layouts are tried. */
  readonly watched?: boolean;
}

/** One of the searches that go on side by side, each its own way. */
interface Stream {
  readonly seed: number;
  /** Whether it looks for blocks that repeat: every other stream does. */
  readonly blocks: boolean;
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

/** How many streams a search counted in rounds has if nobody says: the same on every machine, for the same bytes. */
export const usualStreams = 2;
/** No search has more streams: each has tables of its own, up to some hundred MB. */
export const mostStreams = 64;
/**
 * Stages of a search. At the end of each the streams of a group go on from the shortest layout of any of them; from
 * `shared` on all streams do. Until then each group goes its own way, so that not all end in the same place.
 */
const stages = 10;
const shared = 8;
const groupSize = 2;

/** Streams in this thread: each goes on to the end of a stage, from the layout that `from` has for it, if there is one. */
export type RunStage = (stage: number, from: readonly (Layout | null)[]) => StageEnd;

/** The shortest layout of each stream of a thread, and the shortest of all of them for whoever asked. */
interface StageEnd {
  readonly layouts: readonly Layout[];
  readonly nest: Nest;
}

export function openStreams(job: StreamJob, { found, trying }: Watch = {}): RunStage {
  const { instance, streams, limit, stop, began } = job;
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
  const begin = ({ seed, blocks }: Stream, nth: number): Search => {
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
      ...(trying === undefined || nth !== 0 ? {} : { watch: (next: Look) => (look = next) }),
    };
    return beginSearch(ready, seed, budget, blocks);
  };
  return (stage, from) => {
    for (const [nth, stream] of streams.entries()) {
      const search = (searches[nth] ??= begin(stream, nth));
      const known = from[nth] ?? null;
      if (known !== null) search.adopt(known);
      search.until((stage + 1) / stages);
    }
    const layouts = searches.map(({ best }) => best);
    return { layouts, nest: nestOf(ready, shortest(layouts)) };
  };
}

function shortest<One extends { readonly length: number }>(all: readonly One[]): One {
  return all.reduce((best, one) => (one.length < best.length ? one : best));
}

/** What each stream goes on from at a stage, given what each has found so far; null: from what it is at. */
function goingOn(stage: number, found: readonly Layout[]): (Layout | null)[] {
  const size = stage < shared ? groupSize : found.length;
  return found.map((own, nth) => {
    const first = nth - (nth % size);
    const best = shortest(found.slice(first, first + size));
    // A stream that is at items strewn about may not have come below its own first layout yet: it is given its time.
    return best === own && stage < shared ? null : best;
  });
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
 * Lays an instance in several streams, spread over threads. `seed` is an integer that decides all that is left to
 * chance. Counted in rounds the result is the same for any number of threads. `engine`: where it is done; left out, in
 * threads that end with the search. Throws as prepared does, and a RangeError for numbers that make no sense.
 */
export async function nestInStreams(
  given: Instance,
  order: Parameters<typeof searchInStreams>[1],
  watch: Watch = {},
): Promise<Nest> {
  const { limit, threads, stop } = order;
  // What makes no sense is refused here and not in a thread.
  checkOrder(limit, threads, stop);
  checkInstance(given);
  const factor = toUsualUnit(given.width);
  if (factor === 1) return searchInStreams(given, order, watch);
  const back = (nest: Nest): Nest => scaledNest(nest, 1 / factor);
  const { found, trying } = watch;
  const scaled = await searchInStreams(scaledInstance(given, factor), order, {
    ...(found && { found: (nest) => found(back(nest)) }),
    ...(trying && { trying: (nest) => trying(back(nest)) }),
  });
  return back(scaled);
}

async function searchInStreams(
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
  watch: Watch,
): Promise<Nest> {
  if (instance.kinds.every(({ demand }) => demand === 0)) return { length: 0, placements: [] };
  const count = 'seconds' in limit ? threads : (limit.streams ?? usualStreams);
  const streams = Array.from({ length: count }, (_, nth): Stream => ({
    seed: seed * mostStreams + nth,
    blocks: nth % 2 === 0,
  }));
  const began = Date.now();
  const isOf = (nth: number, thread: number): boolean => nth % threads === thread;
  const jobs = Array.from({ length: Math.min(threads, count) }, (_, thread): StreamJob => ({
    instance,
    streams: streams.filter((__, nth) => isOf(nth, thread)),
    limit,
    stop,
    began,
    watched: thread === 0 && watch.trying !== undefined,
  }));
  let shortestTold = Infinity;
  const heed = (news: StreamNews): void => {
    if ('trying' in news) watch.trying?.(news.trying);
    else if (news.found.length < shortestTold) {
      shortestTold = news.found.length;
      watch.found?.(news.found);
    }
  };
  const own = engine ?? openEngine();
  const hosts = own.threads(jobs.length).map((host, i) => ({ job: jobs[i]!, host }));
  try {
    let ends: readonly StageEnd[] = [];
    for (let stage = 0; stage < stages; stage++) {
      const found =
        stage === 0
          ? []
          : streams.map((_, nth) => ends[nth % threads]!.layouts[Math.floor(nth / threads)]!);
      const next = goingOn(stage, found);
      ends = await Promise.all(
        hosts.map(({ job, host }, thread) => {
          const from = next.filter((_, nth) => isOf(nth, thread));
          return host.run('stage', { job, stage, from }, { progress: heed });
        }),
      );
      if (Atomics.load(new Uint8Array(stop), 0) !== 0) break;
    }
    return shortest(ends.map(({ nest }) => nest));
  } catch (error) {
    // The other threads may still be at it, and could not take the next search.
    own.close();
    throw error;
  } finally {
    if (engine === undefined) own.close();
  }
}

function checkOrder(limit: Limit, threads: number, stop: SharedArrayBuffer): void {
  const isCount = (count: number): boolean =>
    Number.isInteger(count) && count >= 1 && count <= mostStreams;
  if (!isCount(threads)) throw new RangeError(`threads are 1 to ${mostStreams}, not ${threads}`);
  if ('seconds' in limit) {
    if (!(limit.seconds >= 0))
      throw new RangeError(`a search cannot take ${limit.seconds} seconds`);
  } else {
    const { rounds, streams = usualStreams } = limit;
    if (!(rounds >= 0)) throw new RangeError(`a search cannot take ${rounds} rounds`);
    if (!isCount(streams)) throw new RangeError(`streams are 1 to ${mostStreams}, not ${streams}`);
  }
  if (!(stop instanceof SharedArrayBuffer && stop.byteLength > 0)) {
    throw new RangeError('stop is to be a SharedArrayBuffer of one byte, so that threads see it');
  }
}

/** A stage for the streams of one thread; `from` as in RunStage. */
interface StageOrder {
  readonly job: StreamJob;
  readonly stage: number;
  readonly from: readonly (Layout | null)[];
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
  ): StageEnd => {
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
