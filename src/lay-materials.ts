import { setImmediate as pause } from 'node:timers/promises';
import type { Finding } from './findings.ts';
import { Refusal, refuse } from './findings.ts';
import type { Job } from './job.ts';
import type { Lay } from './lay/lay.ts';
import { checkRollLength, layRounds } from './lay/lay-parts.ts';
import type { Material } from './pattern/material.ts';
import { rollOf } from './run.ts';

/** How the lays of a run are searched for. */
export interface LayOptions {
  /** Instead of the run file's. */
  readonly seed?: number;
  /** Rounds of search a material, instead of the run file's. */
  readonly effort?: number;
  /** Asked between parts: whether somebody wants the search to end. */
  readonly stopped?: () => boolean;
  /** Whether a search that is stopped gives the best lay so far; else the run is refused. */
  readonly keepBest?: boolean;
  /** Told of each round. */
  readonly progress?: (material: string, rounds: number, lay: Lay) => void;
}

/**
 * A lay for each material of a run. Throws a Refusal where parts do not fit, a roll is too short, or
 * the search is stopped and its best lay is not wanted.
 */
export async function layMaterials(job: Job, options: LayOptions): Promise<Lay[]> {
  const lays: Lay[] = [];
  const findings: Finding[] = [];
  for (const material of job.materials.values()) {
    try {
      const lay = await layMaterial(job, material, options);
      if (lay !== null) lays.push(lay);
    } catch (error) {
      if (!(error instanceof Refusal) || options.stopped?.() === true) throw error;
      findings.push(...error.findings);
    }
  }
  if (findings.length > 0) throw new Refusal(findings);
  return lays;
}

/** null where nothing is cut from the material. */
async function layMaterial(job: Job, material: Material, options: LayOptions): Promise<Lay | null> {
  const { run, cutter } = job;
  const parts = job.parts.filter((part) => part.material === material.name);
  if (parts.length === 0) return null;
  const rules = { turns: material.turns, gap: material.gap, biteLength: cutter.bed.length };
  const effort = options.effort ?? run.effort;
  let best: Lay | null = null;
  let told = 0;
  for (const state of layRounds(
    parts,
    material.name,
    rollOf(run, material),
    rules,
    options.seed ?? run.seed,
  )) {
    best = state.lay;
    if (best !== null && state.rounds > told)
      options.progress?.(material.name, (told = state.rounds), best);
    if (best !== null && state.rounds >= effort) break;
    // Signals are heard only when the program pauses.
    await pause();
    if (options.stopped?.() !== true) continue;
    if (options.keepBest !== true) refuseStopped();
    // A first lay is finished all the same: without it the other materials would be cut for nothing.
    if (best !== null) break;
  }
  if (best !== null) checkRollLength(best, parts);
  return best;
}

function refuseStopped(): never {
  return refuse(
    'stopped',
    'the run was stopped while its parts were being laid.',
    'Nothing was written. With --keep-best the best lay so far is used.',
  );
}
