import { availableParallelism } from 'node:os';
import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import { rounded } from '../../base/numbers.ts';
import { layCloth } from '../../jobs/lay-materials.ts';
import type { Lay, Placement, Roll } from '../../lay/lay.ts';
import type { Cloth } from '../../pattern/shop/cloth.ts';
import { clothName, isCutFrom } from '../../pattern/shop/cloth.ts';
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
  { shop, run, seconds, cloth: wanted }: LayWish,
  { progress, signal }: LayTools,
): Promise<LaidAnew> {
  const job = jobOf(shop, run);
  const cloths = job.cloths.filter((cloth) => wanted === undefined || wanted === nameOf(cloth));
  const shares = sharesOf(job, cloths, seconds);
  const began = Date.now();
  const found: LaidAnew[] = [];
  for (const [i, cloth] of cloths.entries()) {
    const from = Date.now();
    const after = shares.slice(i + 1).reduce((sum, share) => sum + share, 0);
    const tell = (): void =>
      progress({
        kind: 'search',
        cloth: nameOf(cloth),
        number: i + 1,
        of: cloths.length,
        elapsed: (Date.now() - began) / 1000,
        left: Math.max(0, shares[i]! - (Date.now() - from) / 1000) + after,
      });
    tell();
    const clock = setInterval(tell, 200);
    try {
      found.push(await laidOrNot(job, cloth, shares[i]!, { progress, signal }));
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
 * Lays one cloth, beginning with where the run file has its parts; where they no longer fit, it
 * begins with nothing laid.
 */
async function laidOrNot(
  job: Job,
  cloth: Cloth,
  seconds: number,
  tools: LayTools,
): Promise<LaidAnew> {
  try {
    return { lays: await search(job, cloth, seconds, tools), findings: [] };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const fresh = withoutLaid(job, cloth);
    if (fresh === null) return { lays: [], findings: error.findings };
    const { lays, findings } = await laidOrNot(fresh, cloth, seconds, tools);
    return { lays, findings: lays.length === 0 ? findings : [laidFromNothing(error, cloth)] };
  }
}

function laidFromNothing({ findings }: Refusal, cloth: Cloth): Finding {
  return {
    severity: 'note',
    rule: 'laid-anew',
    message: `what was laid of ${nameOf(cloth)} no longer fits: ${findings[0]!.message}`,
    todo: 'It was laid anew.',
    where: {},
  };
}

/** The job with nothing of the cloth laid; null where nothing of it is laid anyway. */
function withoutLaid(job: Job, { material: { name }, colour }: Cloth): Job | null {
  const entries = [job.run.rolls[name] ?? []].flat();
  const isOwn = (entry: (typeof entries)[number]): boolean => entry.colour === colour;
  if (entries.filter(isOwn).every(({ laid }) => laid.length === 0)) return null;
  const empty = entries.map((entry) => (isOwn(entry) ? { ...entry, laid: [] } : entry));
  const rolls = { ...job.run.rolls, [name]: empty.length === 1 ? empty[0]! : empty };
  return { ...job, run: { ...job.run, rolls } };
}

async function search(
  job: Job,
  cloth: Cloth,
  seconds: number,
  { progress, signal }: LayTools,
): Promise<PicturedLay[]> {
  const shortest = new Map<string | undefined, number>();
  const laid = await layCloth(job, cloth, {
    goOn: true,
    keepBest: true,
    threads: enginesAtOnce,
    limit: { seconds },
    signal,
    progress: (_, one) => {
      if (one.length >= (shortest.get(one.roll.name) ?? Infinity)) return;
      shortest.set(one.roll.name, one.length);
      progress({ kind: 'lay', ...shown(job, cloth, one.roll, one.placements(), one) });
    },
    trying: (roll, placements) => progress(tried(cloth, roll, placements)),
  });
  return laid.map((one) => laidOf(job, cloth, one));
}

/** How many seconds each cloth gets. More parts need more time, but not in proportion. */
function sharesOf(job: Job, cloths: readonly Cloth[], seconds: number): number[] {
  const weights = cloths.map((cloth) =>
    Math.sqrt(job.parts.filter((part) => isCutFrom(part, cloth)).length),
  );
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => (seconds * weight) / whole);
}

function shown(
  job: Job,
  cloth: Cloth,
  roll: Roll,
  placements: readonly Placement[],
  { length, density }: Pick<Lay, 'length' | 'density'>,
): PicturedLay {
  return {
    ...rollOf(cloth, roll),
    placements: placements.map(({ label, x, y, rotation }) => ({
      label,
      x: rounded(x, 2),
      y: rounded(y, 2),
      rotation,
    })),
    pinned: pinnedOn(job, cloth, roll),
    length,
    density,
  };
}

/** Which roll it is: of which material, in which colour, and its name. */
function rollOf(
  { material, colour }: Cloth,
  { name }: Roll,
): Pick<PicturedLay, 'material' | 'colour' | 'roll'> {
  return { material: material.name, colour: colour ?? null, roll: name ?? null };
}

function pinnedOn(job: Job, { material, colour }: Cloth, roll: Roll): string[] {
  const loaded = loadedRolls(job).find(
    ({ cloth, roll: one }) =>
      cloth.material === material && cloth.colour === colour && one.name === roll.name,
  );
  return (loaded?.roll.pins ?? []).map(({ part }) => part);
}

/** The lay as it is saved: to the last digit, while pictures are rounded. */
function laidOf(job: Job, cloth: Cloth, { roll, placements, length, density }: Lay): PicturedLay {
  return {
    ...rollOf(cloth, roll),
    placements,
    pinned: pinnedOn(job, cloth, roll),
    length,
    density,
  };
}

function tried(cloth: Cloth, roll: Roll, placements: readonly Placement[]): RunEvent {
  return {
    kind: 'trying',
    ...rollOf(cloth, roll),
    labels: placements.map(({ label }) => label),
    places: placements.flatMap(({ x, y, rotation }) => [rounded(x, 1), rounded(y, 1), rotation]),
  };
}

function nameOf({ material, colour }: Cloth): string {
  return clothName(material.name, colour);
}
