import type { Finding } from '../base/findings.ts';
import { Refusal, refuse } from '../base/findings.ts';
import type { Job } from '../run/job.ts';
import type { Limit } from '../lay/engine/engine.ts';
import type { Part } from '../handing/part.ts';
import type { Cutter } from '../knife/cutter.ts';
import type { Lay, LayRules, Placement } from '../lay/lay.ts';
import type { FoundLay, LaySearch } from '../lay/lay-parts.ts';
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
  /** How long to search for each material. Left out: the effort of the run file. */
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
  /** Called with every lay that is shorter than the one before. */
  readonly progress?: (cloth: string, lay: FoundLay) => void;
}

/**
 * Lays the parts of a job: one lay for each cloth, or several if there are several rolls of it.
 * Throws a Refusal if parts do not fit, a roll is too short, or the search is stopped and its best lay is
 * not wanted.
 */
export async function layMaterials(job: Job, options: LayOptions): Promise<Lay[]> {
  const lays: Lay[] = [];
  const findings: Finding[] = [];
  for (const [i, cloth] of job.cloths.entries()) {
    await options.before?.(clothName(cloth.material.name, cloth.colour), i + 1, job.cloths.length);
    try {
      lays.push(...(await layCloth(job, cloth, options)));
    } catch (error) {
      if (!(error instanceof Refusal) || options.signal?.aborted === true) throw error;
      findings.push(...error.findings);
    }
  }
  if (findings.length > 0) throw new Refusal(findings);
  return lays;
}

/** The lays of one cloth, as layMaterials makes them. */
async function layCloth(job: Job, cloth: Cloth, options: LayOptions): Promise<Lay[]> {
  const { run, cutter } = job;
  const { material, colour } = cloth;
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
  const lays = await untilAborted(options.signal, (stop) =>
    layOnRolls(parts, material.name, rolls, rules, {
      seed: options.seed ?? run.seed,
      limit: inStreams(options.limit ?? { rounds: run.effort }, options.streams),
      threads: options.threads ?? 2,
      stop,
      found: (lay) => options.progress?.(clothName(material.name, colour), lay),
    }),
  );
  // A search that is stopped at once still finishes its first lay. Without this refusal the other
  // materials would then be laid for nothing.
  if (options.signal?.aborted === true && options.keepBest !== true) refuseStopped();
  return lays;
}

function inStreams(limit: Limit, streams: number | undefined): Limit {
  return 'seconds' in limit || streams === undefined ? limit : { ...limit, streams };
}

/** How what fits of a cloth is searched for. */
interface FittingOptions extends Pick<TimedSearch, 'seed' | 'seconds' | 'unfit'> {
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

/** Does a search that ends when the byte is set, as soon as somebody wants it to end. */
async function untilAborted<T>(
  signal: AbortSignal | undefined,
  search: (stop: SharedArrayBuffer) => Promise<T>,
): Promise<T> {
  const stop = new SharedArrayBuffer(1);
  const end = (): number => Atomics.store(new Uint8Array(stop), 0, 1);
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
