import { Refusal } from './findings.ts';
import type { Job } from './job.ts';
import type { Lay } from './lay/lay.ts';
import { layParts } from './lay/lay-parts.ts';
import { rollOf } from './run.ts';

/** How the lays of a run are searched for. */
export interface LayOptions {
  /** Instead of the run file's. */
  readonly seed?: number;
  /** Rounds of search a material, instead of the run file's. */
  readonly effort?: number;
}

/** A lay for each material of a run. */
export async function layMaterials(job: Job, options: LayOptions): Promise<Lay[]> {
  const { run, cutter, materials } = job;
  const lays: Lay[] = [];
  const misfits = [];
  for (const material of materials.values()) {
    const parts = job.parts.filter((part) => part.material === material.name);
    if (parts.length === 0) continue;
    const rules = { turns: material.turns, gap: material.gap, biteLength: cutter.bed.length };
    const search = { seed: options.seed ?? run.seed, effort: options.effort ?? run.effort };
    try {
      lays.push(layParts(parts, material.name, rollOf(run, material), rules, search));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      misfits.push(...error.findings);
    }
  }
  if (misfits.length > 0) throw new Refusal(misfits);
  return lays;
}
