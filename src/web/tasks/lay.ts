import type { Finding } from '../../findings.ts';
import { Refusal } from '../../findings.ts';
import type { Job } from '../../job.ts';
import type { Lay, Placement, Roll } from '../../lay/lay.ts';
import { layMaterial } from '../../lay-materials.ts';
import { rounded } from '../../numbers.ts';
import type { Material } from '../../pattern/material.ts';
import type { RunEvent, TableLay } from '../api.ts';
import type { Workshop } from '../workshop.ts';
import { jobOf } from './cached-job.ts';
import { loadedRolls } from './table.ts';

export interface LayWish {
  readonly shop: Workshop;
  readonly run: string;
  /** For all materials together. */
  readonly seconds: number;
  /** Left out: all that the run has parts of. */
  readonly material?: string;
}

export interface LaidAnew {
  readonly lays: readonly TableLay[];
  /** Why some materials could not be laid. */
  readonly findings: readonly Finding[];
}

/**
 * Searches for shorter lays of a run from where its run file has them, until the time is over or it is
 * stopped. Pinned parts stay. Materials that do not fit are told in the findings. Throws a Refusal
 * where the run itself is refused.
 */
export async function lay(
  { shop, run, seconds, material: wanted }: LayWish,
  { progress, signal }: { progress: (event: RunEvent) => void; signal: AbortSignal },
): Promise<LaidAnew> {
  const job = jobOf(shop, run);
  const used = new Set(job.parts.map(({ material }) => material));
  const materials = [...job.materials.values()].filter(
    ({ name }) => used.has(name) && (wanted === undefined || wanted === name),
  );
  const shares = sharesOf(job, materials, seconds);
  const began = Date.now();
  const lays: TableLay[] = [];
  const findings: Finding[] = [];
  for (const [i, material] of materials.entries()) {
    const after = shares.slice(i + 1).reduce((sum, share) => sum + share, 0);
    const from = Date.now();
    const tell = (): void =>
      progress({
        kind: 'search',
        material: material.name,
        number: i + 1,
        of: materials.length,
        elapsed: (Date.now() - began) / 1000,
        left: Math.max(0, shares[i]! - (Date.now() - from) / 1000) + after,
      });
    tell();
    const clock = setInterval(tell, 200);
    try {
      const found = await layMaterial(job, material, {
        goOn: true,
        keepBest: true,
        threads: 2,
        limit: { seconds: shares[i]! },
        signal,
        progress: ((shortest) => (name, one) => {
          const key = one.roll.name ?? '';
          if (one.length >= (shortest.get(key) ?? Infinity)) return;
          shortest.set(key, one.length);
          progress({ kind: 'lay', ...shown(job, name, one.roll, one.placements(), one) });
        })(new Map<string, number>()),
        trying: (roll, placements) => progress(tried(material.name, roll, placements)),
      });
      lays.push(...found.map((one) => laidOf(job, one)));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      findings.push(...error.findings);
    } finally {
      clearInterval(clock);
    }
  }
  return { lays, findings };
}

/** More parts need more time, but not in proportion: seconds for each material. */
function sharesOf(job: Job, materials: readonly Material[], seconds: number): number[] {
  const weights = materials.map(({ name }) =>
    Math.sqrt(job.parts.filter(({ material }) => material === name).length),
  );
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => (seconds * weight) / whole);
}

function shown(
  job: Job,
  material: string,
  roll: Roll,
  placements: readonly Placement[],
  { length, density }: Pick<Lay, 'length' | 'density'>,
): TableLay {
  return {
    material,
    roll: roll.name ?? null,
    placements: placements.map(({ label, x, y, rotation }) => ({
      label,
      x: rounded(x, 2),
      y: rounded(y, 2),
      rotation,
    })),
    pinned: pinnedOn(job, material, roll),
    length,
    density,
  };
}

function pinnedOn(job: Job, material: string, roll: Roll): string[] {
  const loaded = loadedRolls(job).find(
    (one) => one.material.name === material && one.roll.name === roll.name,
  );
  return (loaded?.roll.pins ?? []).map(({ part }) => part);
}

/** The lay itself, to the last digit. */
function laidOf(job: Job, { material, roll, placements, length, density }: Lay): TableLay {
  return {
    material,
    roll: roll.name ?? null,
    placements,
    pinned: pinnedOn(job, material, roll),
    length,
    density,
  };
}

function tried(material: string, roll: Roll, placements: readonly Placement[]): RunEvent {
  return {
    kind: 'trying',
    material,
    roll: roll.name ?? null,
    labels: placements.map(({ label }) => label),
    places: placements.flatMap(({ x, y, rotation }) => [rounded(x, 1), rounded(y, 1), rotation]),
  };
}
