import { availableParallelism } from 'node:os';
import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import { rounded } from '../../base/numbers.ts';
import { layMaterial } from '../../jobs/lay-materials.ts';
import type { Lay, Placement, Roll } from '../../lay/lay.ts';
import type { Material } from '../../pattern/shop/material.ts';
import type { Job } from '../../run/job.ts';
import type { RunEvent } from '../api/events.ts';
import type { SearchWish } from '../api/lay.ts';
import type { PicturedLay } from '../api/pictured.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { jobOf } from './cached-job.ts';
import { loadedRolls } from './lay-table.ts';

export interface LayWish extends SearchWish {
  readonly shop: Workshop;
  readonly run: string;
}

/**
 * Threads of the search. One of the machine's cores is left for the browser of whoever looks on.
 */
const enginesAtOnce = Math.max(1, Math.min(2, availableParallelism() - 1));

export interface LaidAnew {
  readonly lays: readonly PicturedLay[];
  /** Why some materials could not be laid. */
  readonly findings: readonly Finding[];
}

/**
 * Searches for shorter lays of a run, beginning with where its run file has the parts, until the time
 * is over or the search is stopped. Pinned parts stay where they are. A material whose parts do not fit
 * is told in the findings. Throws a Refusal where the run itself is refused.
 */
export async function lay(
  { shop, run, seconds, material: wanted }: LayWish,
  { progress, signal }: LayTools,
): Promise<LaidAnew> {
  const job = jobOf(shop, run);
  const used = new Set(job.parts.map(({ material }) => material));
  const materials = [...job.materials.values()].filter(
    ({ name }) => used.has(name) && (wanted === undefined || wanted === name),
  );
  const shares = sharesOf(job, materials, seconds);
  const began = Date.now();
  const found: LaidAnew[] = [];
  for (const [i, material] of materials.entries()) {
    const from = Date.now();
    const after = shares.slice(i + 1).reduce((sum, share) => sum + share, 0);
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
      found.push(await laidOrNot(job, material, shares[i]!, { progress, signal }));
    } finally {
      clearInterval(clock);
    }
  }
  return {
    lays: found.flatMap(({ lays }) => lays),
    findings: found.flatMap(({ findings }) => findings),
  };
}

interface LayTools {
  readonly progress: (event: RunEvent) => void;
  readonly signal: AbortSignal;
}

/**
 * Lays one material, beginning with where the run file has its parts; where they no longer fit, it
 * begins with nothing laid.
 */
async function laidOrNot(
  job: Job,
  material: Material,
  seconds: number,
  tools: LayTools,
): Promise<LaidAnew> {
  try {
    return { lays: await search(job, material, seconds, tools), findings: [] };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const fresh = withoutLaid(job, material);
    if (fresh === null) return { lays: [], findings: error.findings };
    const { lays, findings } = await laidOrNot(fresh, material, seconds, tools);
    return { lays, findings: lays.length === 0 ? findings : [laidFromNothing(error, material)] };
  }
}

function laidFromNothing({ findings }: Refusal, { name }: Material): Finding {
  return {
    severity: 'note',
    rule: 'laid-anew',
    message: `what was laid of ${name} no longer fits: ${findings[0]!.message}`,
    todo: 'It was laid anew.',
    where: {},
  };
}

/** The job with nothing of the material laid; null where nothing of it is laid anyway. */
function withoutLaid(job: Job, { name }: Material): Job | null {
  const entries = [job.run.rolls[name] ?? []].flat();
  if (entries.every(({ laid }) => laid.length === 0)) return null;
  const empty = entries.map((entry) => ({ ...entry, laid: [] }));
  const rolls = { ...job.run.rolls, [name]: empty.length === 1 ? empty[0]! : empty };
  return { ...job, run: { ...job.run, rolls } };
}

async function search(
  job: Job,
  material: Material,
  seconds: number,
  { progress, signal }: LayTools,
): Promise<PicturedLay[]> {
  const shortest = new Map<string | undefined, number>();
  const laid = await layMaterial(job, material, {
    goOn: true,
    keepBest: true,
    threads: enginesAtOnce,
    limit: { seconds },
    signal,
    progress: (name, one) => {
      if (one.length >= (shortest.get(one.roll.name) ?? Infinity)) return;
      shortest.set(one.roll.name, one.length);
      progress({ kind: 'lay', ...shown(job, name, one.roll, one.placements(), one) });
    },
    trying: (roll, placements) => progress(tried(material.name, roll, placements)),
  });
  return laid.map((one) => laidOf(job, one));
}

/** How many seconds each material gets. More parts need more time, but not in proportion. */
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
): PicturedLay {
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

/** The lay as it is saved: to the last digit, while pictures are rounded. */
function laidOf(job: Job, { material, roll, placements, length, density }: Lay): PicturedLay {
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
