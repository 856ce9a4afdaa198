import type { Finding } from '../../base/findings.ts';
import type { Part } from '../../handing/part.ts';
import { layRules } from '../../jobs/lay-materials.ts';
import type { Placement, Roll } from '../../lay/lay.ts';
import { startFaults } from '../../lay/pins.ts';
import type { Cloth } from '../../pattern/shop/cloth.ts';
import type { Job } from '../../run/job.ts';
import type { PicturedLay } from '../api/pictured.ts';
import { knownPlacements, lengthOfLaid, loadedRolls, picturedLay } from './lay-table.ts';

/** Parts on one roll of a cloth. */
interface RollLay {
  readonly roll: Roll;
  readonly placements: readonly Placement[];
}

/** The lays of a cloth that a person would keep: of the most parts, and of as many the shortest. */
export interface BestKnown {
  /** Why parts cannot lie any more as the run file has them. */
  readonly faults: readonly Finding[];
  /** Takes a roll's new lay; gives all lays of the cloth where they are better so. Otherwise null. */
  readonly take: (lay: RollLay) => readonly PicturedLay[] | null;
  /** Takes all lays of the cloth at once, where they are better so; gives the best then. */
  readonly takeAll: (lays: readonly RollLay[]) => readonly PicturedLay[];
}

/** Begins with what the run file has laid and pinned, as far as it may lie so still. */
export function openBestKnown(job: Job, cloth: Cloth): BestKnown {
  const byLabel = new Map(job.parts.map((part) => [part.label, part]));
  const loaded = loadedRolls(job).filter(
    (one) => one.cloth.material === cloth.material && one.cloth.colour === cloth.colour,
  );
  const faults: Finding[] = [];
  let best: readonly RollLay[] = loaded.map(({ roll }) => {
    const { placements } = knownPlacements(job, cloth, roll);
    const own = startFaults(placements, byLabel, roll, layRules(cloth.material, job.cutter));
    faults.push(...own);
    const faulty = new Set(own.map(({ where }) => where.part));
    return { roll, placements: placements.filter(({ label }) => !faulty.has(label)) };
  });
  const isSame = (one: RollLay, other: RollLay): boolean => one.roll.name === other.roll.name;
  const better = (lays: readonly RollLay[]): boolean => {
    const more = countOf(lays) - countOf(best);
    return more > 0 || (more === 0 && lengthOf(lays, byLabel) <= lengthOf(best, byLabel));
  };
  const pictured = (): PicturedLay[] =>
    best
      .filter(({ placements }) => placements.length > 0)
      .map(({ roll, placements }) => {
        const { pins } = loaded.find((one) => one.roll.name === roll.name)!.roll;
        return picturedLay(
          cloth,
          roll,
          placements,
          pins.map(({ part }) => part),
          byLabel,
        );
      });
  return {
    faults,
    take: (lay) => {
      const own = new Set(lay.placements.map(({ label }) => label));
      const next = best.map((one) =>
        isSame(one, lay)
          ? lay
          : { ...one, placements: one.placements.filter(({ label }) => !own.has(label)) },
      );
      if (!better(next)) return null;
      best = next;
      return pictured();
    },
    takeAll: (lays) => {
      const next = best.map(
        (one) => lays.find((lay) => isSame(one, lay)) ?? { ...one, placements: [] },
      );
      if (better(next)) best = next;
      return pictured();
    },
  };
}

function countOf(lays: readonly RollLay[]): number {
  return lays.reduce((sum, { placements }) => sum + placements.length, 0);
}

function lengthOf(lays: readonly RollLay[], byLabel: ReadonlyMap<string, Part>): number {
  return lays.reduce((sum, { placements }) => sum + lengthOfLaid(placements, byLabel), 0);
}
