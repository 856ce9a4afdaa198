import { availableParallelism } from 'node:os';
import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import { rounded } from '../../base/numbers.ts';
import type { ClothToLay } from '../../jobs/lay-materials.ts';
import { clothToLay, firstShare, layClothThatFits } from '../../jobs/lay-materials.ts';
import type { Engine } from '../../lay/engine/engine.ts';
import { openEngine } from '../../lay/engine/engine.ts';
import type { Placement, Roll } from '../../lay/lay.ts';
import type { Cloth } from '../../pattern/shop/cloth.ts';
import { clothName } from '../../pattern/shop/cloth.ts';
import type { Job } from '../../run/job.ts';
import type { RunEvent } from '../api/events.ts';
import type { SearchWish } from '../api/lay.ts';
import type { PicturedLay } from '../api/pictured.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { jobOf } from './cached-job.ts';
import type { BestKnown } from './best-known.ts';
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
  const elapsed = (): number => (Date.now() - asked) / 1000;
  const left = (): number => Math.max(0, seconds - elapsed());
  const engine = openEngine();
  const searches = cloths.map((cloth) => openClothSearch(job, cloth, { progress, signal, engine }));
  const searched = async (i: number, share: number): Promise<LaidAnew> => {
    let unfit: readonly string[] = [];
    const tell = (): void =>
      progress({
        kind: 'search',
        cloth: nameOf(cloths[i]!),
        number: i + 1,
        of: cloths.length,
        elapsed: elapsed(),
        left: left(),
        unfit,
      });
    tell();
    const clock = setInterval(tell, 200);
    try {
      return await searches[i]!(share, (sets) => {
        unfit = sets.map(({ message }) => message);
        tell();
      });
    } finally {
      clearInterval(clock);
    }
  };
  try {
    // First a lay of everything, without a search: it is there in a moment, and nothing is left out.
    const found: LaidAnew[] = [];
    const took: number[] = [];
    for (const i of cloths.keys()) {
      const from = elapsed();
      const first = signal.aborted ? nothingNew : await searched(i, 0);
      // What found no room before it was stopped might have found some.
      found.push(signal.aborted ? { ...first, findings: [] } : first);
      took.push(elapsed() - from);
    }
    for (const i of cloths.keys()) {
      if (signal.aborted) break;
      const share = firstShare(job, cloths.slice(i), left());
      // In less time than the first lay took nothing better would be found.
      if (share > took[i]!) found[i] = await searched(i, share);
    }
    return {
      lays: found.flatMap(({ lays }) => lays),
      findings: found.flatMap(({ findings }) => findings),
    };
  } finally {
    engine.close();
  }
}

const nothingNew: LaidAnew = { lays: [], findings: [] };

/** Lays of a cloth, all of them, that are worth keeping whatever becomes of the search. */
export interface KeptLays {
  readonly kind: 'keep';
  readonly lays: readonly PicturedLay[];
}

interface LayTools {
  readonly progress: (news: RunEvent | KeptLays) => void;
  readonly signal: AbortSignal;
}

/** Searches for so many seconds, and tells of the sets for which there seems to be no room. */
type ClothSearch = (
  seconds: number,
  unfit: (left: readonly Finding[]) => void,
) => Promise<LaidAnew>;

/**
 * Lays one cloth as far as there is room, each time it is asked to. Of what the run file has, and of what it has found
 * before, nothing is lost for what is worse.
 */
function openClothSearch(job: Job, cloth: Cloth, tools: ClothTools): ClothSearch {
  const known = clothToLay(job, cloth);
  const best = openBestKnown(cloth, known);
  const shortest = new Map<string | undefined, number>();
  return (seconds, unfit) =>
    laidOrNot(job, cloth, { known, best, shortest, seconds, unfit }, tools);
}

interface ClothTools extends LayTools {
  readonly engine: Engine;
}

interface ClothAsked {
  readonly known: ClothToLay;
  readonly best: BestKnown;
  /** The shortest lay that was shown, by the name of its roll. */
  readonly shortest: Map<string | undefined, number>;
  readonly seconds: number;
  readonly unfit: (left: readonly Finding[]) => void;
}

async function laidOrNot(
  job: Job,
  cloth: Cloth,
  { known, best, shortest, seconds, unfit }: ClothAsked,
  { progress, signal, engine }: ClothTools,
): Promise<LaidAnew> {
  const keeping = openKeeping(progress);
  try {
    const fitting = await layClothThatFits(known, {
      seed: job.run.seed,
      seconds,
      threads: enginesAtOnce,
      engine,
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
