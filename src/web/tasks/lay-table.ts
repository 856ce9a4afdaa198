import type { Finding } from '../../base/findings.ts';
import { lengthWords } from '../../base/wording.ts';
import { choicesKey } from '../../handing/derive.ts';
import type { Part } from '../../handing/part.ts';
import { ordersOf } from '../../jobs/cut.ts';
import { layRules, placementOf } from '../../jobs/lay-materials.ts';
import { bitesOf, reachOf } from '../../lay/bites.ts';
import { materialArea } from '../../lay/lay-parts.ts';
import type { Placement, Roll } from '../../lay/lay.ts';
import { usableWidth } from '../../lay/lay.ts';
import { startFaults } from '../../lay/pins.ts';
import { holdsNoSet } from '../../lay/what-fits.ts';
import { carpetWords, sentence } from '../../papers/facts/fitting-words.ts';
import { nextSteps, wordStep } from '../../papers/facts/next-steps.ts';
import type { OrderFacts } from '../../papers/facts/run-facts.ts';
import type { Cloth } from '../../pattern/shop/cloth.ts';
import { isCutFrom } from '../../pattern/shop/cloth.ts';
import { materialOf } from '../../pattern/shop/material.ts';
import type { Job } from '../../run/job.ts';
import { loadedRolls } from '../../run/job.ts';
import type { LoadedRoll } from '../../run/run-file.ts';
import type { LayTable } from '../api/lay.ts';
import type { Refused } from '../api/refused.ts';
import type { PicturedLay, PicturedPart } from '../api/pictured.ts';
import { versionOf } from '../workshop/run-file.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFileIn } from '../workshop/workshop.ts';
import type { GoneLabels } from '../workshop/lays-in-run.ts';
import { jobOf } from './cached-job.ts';
import { picturedPart } from './pictured-part.ts';
import { picturedRoll } from './pictured-roll.ts';

/** Gathers all that the view Lay shows of a run. Throws a Refusal where the run is refused. */
export function layTable({
  shop,
  run,
}: {
  shop: Workshop;
  run: string;
}): Omit<LayTable, 'search' | 'earlier' | 'isUnsaved'> {
  const job = jobOf(shop, run);
  const loaded = loadedRolls(job);
  return {
    run,
    title: job.run.title,
    version: versionOf(runFileIn(shop, run))!,
    parts: picturedParts(job),
    rolls: loaded.map(({ cloth: { material }, roll }) =>
      picturedRoll(roll, material, layRules(material, job.cutter)),
    ),
    lays: loaded.flatMap(({ cloth, roll }) => knownLay(job, cloth, roll)),
    findings: job.findings,
    small: loaded.flatMap(({ cloth, roll }) => smallRoll(job, cloth, roll)),
  };
}

/**
 * Why parts may no longer lie where the run file has them. It takes seconds where hundreds do. Throws a Refusal where
 * the run is refused.
 */
export function layFaults({ shop, run }: { shop: Workshop; run: string }): Refused {
  const job = jobOf(shop, run);
  return { findings: loadedRolls(job).flatMap(({ cloth, roll }) => laidFaults(job, cloth, roll)) };
}

/**
 * Labels that the run file has laid on rolls of a cloth, and that no part of it has any more: an order was taken out,
 * is for the other hand, or is of another colour.
 * Throws a Refusal where the run is refused.
 */
export function goneLabels({ shop, run }: { shop: Workshop; run: string }): GoneLabels[] {
  const job = jobOf(shop, run);
  return loadedRolls(job).flatMap(({ cloth, roll }): GoneLabels[] => {
    const own = job.parts.filter((part) => isCutFrom(part, cloth)).map(({ label }) => label);
    const labels = new Set(own);
    const gone = roll.laid.map(({ part }) => part).filter((label) => !labels.has(label));
    const { material, colour } = cloth;
    return gone.length === 0
      ? []
      : [{ material: material.name, colour: colour ?? null, labels: gone }];
  });
}

/** Tells of a roll on which no set can lie as a whole. */
function smallRoll(job: Job, cloth: Cloth, roll: LoadedRoll): LayTable['small'] {
  const { material, colour } = cloth;
  const parts = job.parts.filter((part) => isCutFrom(part, cloth));
  const finding = holdsNoSet(parts, roll, layRules(material, job.cutter));
  if (finding === null) return [];
  return [{ material: material.name, colour: colour ?? null, roll: roll.name ?? null, finding }];
}

/** Why parts may no longer lie where the run file has them: the roll or the patterns have changed. */
function laidFaults(job: Job, cloth: Cloth, roll: LoadedRoll): Finding[] {
  const { placements } = knownPlacements(job, cloth, roll);
  const byLabel = new Map(job.parts.map((part) => [part.label, part]));
  const rules = layRules(cloth.material, job.cutter);
  return startFaults(placements, byLabel, roll, rules).map((fault) => ({
    ...fault,
    todo: 'Search again, or take its pin out.',
  }));
}

function picturedParts(job: Job): PicturedPart[] {
  const lengths = lengthWords(job.run.inches);
  // Orders that choose the same of a set are told in the same words.
  const kinds = new Map(job.ordered.toReversed().map((one) => [choicesKey(one.order), one]));
  const told = new Map(
    [...kinds].map(([kind, one]) => {
      const [facts] = ordersOf({ ...job, ordered: [one] });
      return [kind, partWords(facts!, lengths)];
    }),
  );
  const words = new Map(
    job.ordered.map((one) => [one.order.order, told.get(choicesKey(one.order))!]),
  );
  return job.parts.map((part) =>
    picturedPart(
      part,
      materialOf(job.materials, part.material).turns,
      words.get(part.order)!.get(part.name)!,
    ),
  );
}

type PartWords = Pick<PicturedPart, 'next' | 'neighbours'>;

/** What is said of the parts of an order, by their names. */
function partWords(
  facts: OrderFacts,
  lengths: ReturnType<typeof lengthWords>,
): Map<string, PartWords> {
  const wanted = new Set(facts.parts.map(({ name }) => name));
  const named = (name: string): string =>
    wanted.has(name) ? name : `${name}, which is not in this order`;
  const wordsOf = carpetWords(facts, { named, number: () => '' }, lengths);
  return new Map(
    facts.parts.map((part) => {
      const { name } = part;
      const bench = facts.bench.get(name)!;
      const steps = nextSteps(facts, name, lengths).map(wordStep);
      const sewn = new Set(
        bench.seams.map(({ partner }) => partner).filter((one) => wanted.has(one)),
      );
      const neighbours =
        bench.carpet === null
          ? [...sentence('Is sewn to', [...sewn]), ...wordsOf(part)]
          : [`Belongs to ${bench.carpet}.`];
      return [name, { next: steps, neighbours }];
    }),
  );
}

/**
 * Where the run file has parts on a roll, pinned or laid. A part that it names and that the orders no
 * longer have is left out.
 */
export function knownPlacements(
  job: Job,
  cloth: Cloth,
  roll: LoadedRoll,
): { placements: Placement[]; pinned: string[] } {
  const labels = new Set(
    job.parts.filter((part) => isCutFrom(part, cloth)).map(({ label }) => label),
  );
  const pinned = roll.pins.map(({ part }) => part);
  const placements = [...roll.pins, ...roll.laid.filter(({ part }) => !pinned.includes(part))];
  return {
    placements: placements.map(placementOf).filter(({ label }) => labels.has(label)),
    pinned,
  };
}

function knownLay(job: Job, cloth: Cloth, roll: LoadedRoll): PicturedLay[] {
  const { placements, pinned } = knownPlacements(job, cloth, roll);
  if (placements.length === 0) return [];
  const byLabel = new Map(job.parts.map((part) => [part.label, part]));
  const { bed } = job.cutter;
  return [picturedLay(cloth, roll, placements, pinned, byLabel, bed.length)];
}

/**
 * Parts where they lie on a roll, with the length and the density of that, see `Lay`, and with bites for a bed of this
 * length, mm.
 */
export function picturedLay(
  { material, colour }: Cloth,
  roll: Roll,
  placements: readonly Placement[],
  pinned: readonly string[],
  byLabel: ReadonlyMap<string, Part>,
  bed: number,
): PicturedLay {
  const reaches = placements.map((one) => reachOf(byLabel.get(one.label)!, one));
  const length = reaches.reduce((most, { maxX }) => Math.max(most, maxX), 0);
  const area = placements.reduce((sum, { label }) => sum + materialArea(byLabel.get(label)!), 0);
  return {
    material: material.name,
    colour: colour ?? null,
    roll: roll.name ?? null,
    placements,
    pinned,
    length,
    density: length === 0 ? 0 : area / (length * usableWidth(roll)),
    bites: Number.isFinite(bed) ? bitesOf(reaches, bed).map(({ start }) => start) : [],
  };
}

/** From the roll's start to the far edge of the last part, mm. */
export function lengthOfLaid(
  placements: readonly Placement[],
  byLabel: ReadonlyMap<string, Part>,
): number {
  return placements.reduce(
    (most, one) => Math.max(most, reachOf(byLabel.get(one.label)!, one).maxX),
    0,
  );
}
