import type { Finding } from '../base/findings.ts';
import { Refusal, refuse } from '../base/findings.ts';
import type { Job } from '../run/job.ts';
import type { Engine, Limit } from '../lay/engine/engine.ts';
import { ending, openEngine } from '../lay/engine/engine.ts';
import type { Part } from '../handing/part.ts';
import type { Cutter } from '../knife/cutter.ts';
import type { Lay, LayRules, Placement } from '../lay/lay.ts';
import type { FoundLay, LaySearch } from '../lay/lay-parts.ts';
import { checkRollLength } from '../lay/lay-parts.ts';
import { layName } from '../lay/lay.ts';
import type { RollToFill } from '../lay/rolls.ts';
import { layOnRolls } from '../lay/rolls.ts';
import type { SoundRolls, TimedSearch, WhatFits } from '../lay/what-fits.ts';
import { layWhatFits, soundRolls } from '../lay/what-fits.ts';
import type { RunRecord } from '../program/record/run-record.ts';
import { recordedName } from '../program/record/run-record.ts';
import type { Cloth } from '../pattern/shop/cloth.ts';
import { clothName, isCutFrom } from '../pattern/shop/cloth.ts';
import type { Material } from '../pattern/shop/material.ts';
import type { Pin } from '../run/run-file.ts';
import { rollsOf } from '../run/run-file.ts';

/** How the lays of a run are searched for. */
export interface LayOptions {
  /** Where random choices begin. Left out: the seed of the run file. */
  readonly seed?: number;
  /**
   * How long to search: so many rounds for each material, or so many seconds for all together. Left out: the effort
   * of the run file.
   */
  readonly limit?: Limit;
  /** Searches side by side where rounds are counted. Left out: as many as the engine usually has. */
  readonly streams?: number;
  readonly threads?: number;
  /** The record of an earlier run: the search begins with its lays. */
  readonly from?: RunRecord;
  /** It is aborted when somebody wants the search to end. */
  readonly signal?: AbortSignal;
  /** Whether a stopped search returns the best lay so far. Otherwise the run is refused. */
  readonly keepBest?: boolean;
  /**
   * Whether parts that the run file has laid are where the search begins. Otherwise they stay where they
   * are.
   */
  readonly goOn?: boolean;
  /** Called before each cloth is laid, with its name; what it throws ends the work. */
  readonly before?: (cloth: string, number: number, of: number) => Promise<void>;
  /** Called with the name of each cloth that hardly any time was left to search for. */
  readonly hardly?: (cloth: string) => void;
  /** Called with every lay that is shorter than the one before, and with its name. */
  readonly progress?: (name: string, lay: FoundLay) => void;
}

/**
 * Lays the parts of a job: one lay for each cloth, or several if there are several rolls of it. Counted in
 * seconds, all cloths are first laid without any search; what is left of the time is then shared among them. So there is
 * a lay of everything as soon as can be, and the search is over in time. Throws a Refusal if parts do not fit, a
 * roll is too short, or the search is stopped and its best lay is not wanted.
 */
export async function layMaterials(job: Job, options: LayOptions): Promise<Lay[]> {
  const limit = inStreams(options.limit ?? { rounds: job.run.effort }, options.streams);
  const engine = openEngine();
  const laid = (cloth: Cloth, how: Pick<ClothOptions, 'limit' | 'threads'>): Promise<ClothLaid> =>
    laidOrRefused(job, cloth, { ...options, ...how, engine });
  const began = Date.now();
  const isEnded = (): boolean => options.signal?.aborted === true && options.keepBest === true;
  const left = (): number =>
    'seconds' in limit ? limit.seconds - (Date.now() - began) / 1000 : Infinity;
  try {
    const first: (ClothLaid & { readonly took: number })[] = [];
    if ('seconds' in limit) {
      // Every thread would make the same first lay.
      const how = { limit: { seconds: 0 }, threads: 1 };
      for (const cloth of job.cloths) {
        const from = left();
        first.push({ ...(await laid(cloth, how)), took: from - left() });
      }
    }
    const all: ClothLaid[] = [];
    for (const [i, cloth] of job.cloths.entries()) {
      const name = clothName(cloth.material.name, cloth.colour);
      await options.before?.(name, i + 1, job.cloths.length);
      const seconds = firstShare(job, job.cloths.slice(i), left());
      const isStopped = isEnded();
      const took = first[i]?.took ?? 0;
      // In less time than the first lay took nothing better would be found.
      const known = isStopped || seconds <= took ? first[i] : undefined;
      const own = 'seconds' in limit ? { seconds } : limit;
      const begun = Date.now();
      const found = known ?? (await laid(cloth, { limit: own }));
      // A search that shares its time among rolls may come to an end before all sets have been tried on all of them.
      const isWorse = found.findings.length > 0 && first[i]?.findings.length === 0;
      all.push(isWorse ? first[i]! : found);
      // A search begins with making the first lay once more.
      const searched = isEnded() ? (Date.now() - begun) / 1000 : seconds;
      if (isStopped || isWorse || searched <= 2 * took) options.hardly?.(name);
    }
    const findings = all.flatMap((one) => one.findings);
    if (findings.length > 0) throw new Refusal(findings);
    return all.flatMap(({ lays }) => lays);
  } finally {
    engine.close();
  }
}

/** How many seconds of those that are left the first of some cloths gets. More parts need more time, but not in proportion. */
export function firstShare(job: Job, cloths: readonly Cloth[], seconds: number): number {
  const [first, ...others] = cloths.map((cloth) =>
    Math.sqrt(job.parts.filter((part) => isCutFrom(part, cloth)).length),
  );
  const whole = others.reduce((sum, weight) => sum + weight, first!);
  return whole === 0 ? 0 : Math.max(0, seconds * (first! / whole));
}

/** The lays of a cloth, or why there are none. */
interface ClothLaid {
  readonly lays: readonly Lay[];
  readonly findings: readonly Finding[];
}

async function laidOrRefused(job: Job, cloth: Cloth, options: ClothOptions): Promise<ClothLaid> {
  try {
    return { lays: await layCloth(job, cloth, options), findings: [] };
  } catch (error) {
    const isGivenUp = options.signal?.aborted === true && options.keepBest !== true;
    if (!(error instanceof Refusal) || isGivenUp) throw error;
    return { lays: [], findings: error.findings };
  }
}

/** How one cloth is laid. */
interface ClothOptions extends LayOptions {
  readonly limit: Limit;
  readonly engine: Engine;
}

/** The lays of one cloth, as layMaterials makes them. */
async function layCloth(job: Job, cloth: Cloth, options: ClothOptions): Promise<Lay[]> {
  const { run, cutter } = job;
  const { material } = cloth;
  const parts = job.parts.filter((part) => isCutFrom(part, cloth));
  const rules = layRules(material, cutter);
  const rolls = rollsOf(run, cloth).map(({ pins, laid, ...roll }): RollToFill => {
    const held = pins.map(placementOf);
    const known = laid.map(placementOf);
    if (options.goOn === true) {
      return { roll, pins: held, ...(known.length === 0 ? {} : { start: known }) };
    }
    const earlier = startOn(layName({ material: material.name, roll }), options.from);
    return { roll, pins: [...held, ...known], ...earlier };
  });
  const { limit, engine } = options;
  const lays = await untilAborted(
    options.signal,
    async (stop) => {
      const search = {
        seed: options.seed ?? run.seed,
        threads: options.threads ?? 2,
        engine,
        stop,
        found: (lay: FoundLay) =>
          options.progress?.(layName({ material: material.name, roll: lay.roll }), lay),
      };
      // On several rolls many lays are tried: only a search by the clock shares its time among them.
      return 'seconds' in limit && rolls.length > 1
        ? layAllInTime(parts, material.name, rolls, rules, { ...search, ...limit })
        : layOnRolls(parts, material.name, rolls, rules, { ...search, limit });
      // What is cut as it is deserves at least a first lay made with care.
    },
    options.keepBest === true ? ending.withFirst : ending.atOnce,
  );
  // A search that is stopped at once still finishes its first lay. Without this refusal the other
  // materials would then be laid for nothing.
  if (options.signal?.aborted === true && options.keepBest !== true) refuseStopped();
  return lays;
}

function inStreams(limit: Limit, streams: number | undefined): Limit {
  return 'seconds' in limit || streams === undefined ? limit : { ...limit, streams };
}

/** Lays of all parts on several rolls. Throws a Refusal if some find no room. */
async function layAllInTime(...asked: Parameters<typeof layWhatFits>): Promise<Lay[]> {
  const { lays, left } = await layWhatFits(...asked);
  if (left.length > 0) throw new Refusal(left);
  for (const lay of lays) checkRollLength(lay, asked[0]);
  return [...lays];
}

/** How what fits of a cloth is searched for. */
interface FittingOptions extends Pick<TimedSearch, 'seed' | 'seconds' | 'engine' | 'unfit'> {
  readonly threads: number;
  /** It is aborted when somebody wants the search to end. */
  readonly signal: AbortSignal;
  readonly progress: (lay: FoundLay) => void;
  /** Called a few times a second with the arrangement that is being tried. Its parts may overlap. */
  readonly trying: NonNullable<LaySearch['trying']>;
}

/** The parts of a cloth, and the rolls of a run file that they are laid on. */
export interface ClothToLay extends SoundRolls {
  readonly parts: readonly Part[];
  readonly material: string;
  readonly rules: LayRules;
}

/** A cloth with what the run file has pinned and laid of it, as far as that may lie so still. */
export function clothToLay({ parts: all, run, cutter }: Job, cloth: Cloth): ClothToLay {
  const { material } = cloth;
  const parts = all.filter((part) => isCutFrom(part, cloth));
  const rules = layRules(material, cutter);
  const rolls = rollsOf(run, cloth).map(({ pins, laid, ...roll }): RollToFill => ({
    roll,
    pins: pins.map(placementOf),
    start: laid.map(placementOf),
  }));
  return { parts, material: material.name, rules, ...soundRolls(parts, rolls, rules) };
}

/**
 * The lays of one cloth as far as its parts find room, beginning with what is laid. Throws a Refusal for pins
 * that cannot be.
 */
export async function layClothThatFits(
  { parts, material, rolls, rules }: ClothToLay,
  { signal, progress, ...search }: FittingOptions,
): Promise<WhatFits> {
  return untilAborted(signal, (stop) =>
    layWhatFits(parts, material, rolls, rules, { ...search, stop, found: progress }),
  );
}

/** Does a search that ends when the byte is set: as `how` says, once somebody wants it to end. */
async function untilAborted<T>(
  signal: AbortSignal | undefined,
  search: (stop: SharedArrayBuffer) => Promise<T>,
  how = ending.atOnce,
): Promise<T> {
  const stop = new SharedArrayBuffer(1);
  const end = (): number => Atomics.store(new Uint8Array(stop), 0, how);
  signal?.addEventListener('abort', end);
  if (signal?.aborted === true) end();
  try {
    return await search(stop);
  } finally {
    signal?.removeEventListener('abort', end);
  }
}

/** The rules by which parts of a material are laid for a cutter. */
export function layRules(
  { turns, gap }: Material,
  { bed: { length: biteLength, joinOverlap } }: Cutter,
): LayRules {
  return { turns, gap, biteLength, ...(joinOverlap === undefined ? {} : { joinOverlap }) };
}

export function placementOf({ part, at: [x, y], rotation }: Pin): Placement {
  return { label: part, x, y, rotation };
}

/** The placements of an earlier run on this roll: the search begins with them. */
function startOn(name: string, from: RunRecord | undefined): Pick<RollToFill, 'start'> {
  const earlier = from?.lays.find((lay) => recordedName(lay) === name);
  return earlier === undefined ? {} : { start: earlier.placements };
}

function refuseStopped(): never {
  return refuse(
    'stopped',
    'the run was stopped while its parts were being laid.',
    'Nothing was written. With --keep-best the best lay so far is used.',
  );
}
