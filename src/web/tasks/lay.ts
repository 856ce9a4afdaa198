import { availableParallelism } from 'node:os';
import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import { rounded } from '../../base/numbers.ts';
import { clothToLay, layClothThatFits } from '../../jobs/lay-materials.ts';
import type { Placement, Roll } from '../../lay/lay.ts';
import type { Cloth } from '../../pattern/shop/cloth.ts';
import { clothName, isCutFrom } from '../../pattern/shop/cloth.ts';
import type { Job } from '../../run/job.ts';
import type { RunEvent } from '../api/events.ts';
import type { SearchWish } from '../api/lay.ts';
import type { PicturedLay } from '../api/pictured.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { jobOf } from './cached-job.ts';
import { openBestKnown } from './best-known.ts';

export interface LayWish extends SearchWish {
  readonly shop: Workshop;
  readonly run: string;
  /** When it was asked for, ms since the epoch: the time counts from then. */
  readonly asked: number;
}

/**
 * Threads of the search. One of the machine's cores is left for the browser of whoever looks on.
 */
const enginesAtOnce = Math.max(1, availableParallelism() - 1);

export interface LaidAnew {
  readonly lays: readonly PicturedLay[];
  /** Why some materials could not be laid. */
  readonly findings: readonly Finding[];
}

/**
 * Searches for shorter lays of a run, beginning with where its run file has the parts, until the time
 * is over or the search is stopped. Pinned parts stay where they are. What fits is laid; what does not is told
 * in the findings. Throws a Refusal where the run itself is refused.
 */
export async function lay(
  { shop, run, asked, seconds, cloth: wanted }: LayWish,
  { progress, signal }: LayTools,
): Promise<LaidAnew> {
  const job = jobOf(shop, run);
  const cloths = job.cloths.filter((cloth) => wanted === undefined || wanted === nameOf(cloth));
  const began = Date.now();
  const shares = sharesOf(job, cloths, Math.max(0, seconds - (began - asked) / 1000));
  const found: LaidAnew[] = [];
  for (const [i, cloth] of cloths.entries()) {
    const from = Date.now();
    const after = shares.slice(i + 1).reduce((sum, share) => sum + share, 0);
    let unfit: readonly string[] = [];
    const tell = (): void =>
      progress({
        kind: 'search',
        cloth: nameOf(cloth),
        number: i + 1,
        of: cloths.length,
        elapsed: (Date.now() - asked) / 1000,
        left: Math.max(0, shares[i]! - (Date.now() - from) / 1000) + after,
        unfit,
      });
    tell();
    const clock = setInterval(tell, 200);
    try {
      found.push(
        await laidOrNot(job, cloth, shares[i]!, {
          progress,
          signal,
          unfit: (left) => {
            unfit = left.map(({ message }) => message);
            tell();
          },
        }),
      );
    } finally {
      clearInterval(clock);
    }
  }
  return {
    lays: found.flatMap(({ lays }) => lays),
    findings: found.flatMap(({ findings }) => findings),
  };
}

/** Lays of a cloth, all of them, that are worth keeping whatever becomes of the search. */
export interface KeptLays {
  readonly kind: 'keep';
  readonly lays: readonly PicturedLay[];
}

interface LayTools {
  readonly progress: (news: RunEvent | KeptLays) => void;
  readonly signal: AbortSignal;
}

/** Lays one cloth as far as there is room. Of what the run file has, nothing is lost for what is worse. */
async function laidOrNot(
  job: Job,
  cloth: Cloth,
  seconds: number,
  { progress, signal, unfit }: LayTools & { readonly unfit: (left: readonly Finding[]) => void },
): Promise<LaidAnew> {
  const known = clothToLay(job, cloth);
  const best = openBestKnown(cloth, known);
  const keeping = openKeeping(progress);
  const shortest = new Map<string | undefined, number>();
  try {
    const fitting = await layClothThatFits(known, {
      seed: job.run.seed,
      seconds,
      threads: enginesAtOnce,
      signal,
      unfit,
      progress: (one) => {
        if (one.length >= (shortest.get(one.roll.name) ?? Infinity)) return;
        shortest.set(one.roll.name, one.length);
        const found = { roll: one.roll, placements: one.placements() };
        progress({ kind: 'lay', ...best.shown(found) });
        const lays = best.take(found);
        if (lays !== null) keeping.keep(lays);
      },
      trying: (roll, placements) => progress(tried(cloth, roll, placements)),
    });
    return {
      lays: best.takeAll(fitting.lays),
      findings: [
        ...known.faults.slice(0, 1).map((fault) => laidAnew(fault, cloth)),
        ...fitting.left,
      ],
    };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { lays: [], findings: error.findings };
  } finally {
    keeping.end();
  }
}

/** That a lay may be longer than the one before, and why. */
function laidAnew({ message, where }: Finding, cloth: Cloth): Finding {
  return {
    severity: 'note',
    rule: 'laid-anew',
    message: `what was laid of ${nameOf(cloth)} no longer fits: ${message}`,
    todo: 'What can lie no more as it did was laid anew; so the lay may be longer than it was.',
    where,
  };
}

/** Lays are kept as they get better, but not more often than this, ms. */
const keepEvery = 1000;

/** Tells what is to be kept: at once, or the newest of all that came since as soon as it is time. */
function openKeeping(progress: LayTools['progress']) {
  let waiting: readonly PicturedLay[] | null = null;
  let timer: NodeJS.Timeout | null = null;
  const tell = (): void => {
    timer = waiting === null ? null : setTimeout(tell, keepEvery);
    if (waiting !== null) progress({ kind: 'keep', lays: waiting });
    waiting = null;
  };
  return {
    keep: (lays: readonly PicturedLay[]): void => {
      waiting = lays;
      if (timer === null) tell();
    },
    end: (): void => clearTimeout(timer ?? undefined),
  };
}

/** How many seconds each cloth gets. More parts need more time, but not in proportion. */
function sharesOf(job: Job, cloths: readonly Cloth[], seconds: number): number[] {
  const weights = cloths.map((cloth) =>
    Math.sqrt(job.parts.filter((part) => isCutFrom(part, cloth)).length),
  );
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => (seconds * weight) / whole);
}

function tried(cloth: Cloth, roll: Roll, placements: readonly Placement[]): RunEvent {
  return {
    kind: 'trying',
    material: cloth.material.name,
    colour: cloth.colour ?? null,
    roll: roll.name ?? null,
    labels: placements.map(({ label }) => label),
    places: placements.flatMap(({ x, y, rotation }) => [rounded(x, 1), rounded(y, 1), rotation]),
  };
}

function nameOf({ material, colour }: Cloth): string {
  return clothName(material.name, colour);
}
