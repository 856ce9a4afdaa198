import type { Part } from '../../handing/part.ts';
import type { ClothToLay } from '../../jobs/lay-materials.ts';
import type { Placement, Roll } from '../../lay/lay.ts';
import type { Cloth } from '../../pattern/shop/cloth.ts';
import type { PicturedLay } from '../api/pictured.ts';
import { lengthOfLaid, picturedLay } from './lay-table.ts';

/** Parts on one roll of a cloth. */
interface RollLay {
  readonly roll: Roll;
  readonly placements: readonly Placement[];
}

/** The lays of a cloth that a person would keep: of the most parts, and of as many the shortest. */
export interface BestKnown {
  /** A lay of a roll as the page shows it. */
  readonly shown: (lay: RollLay) => PicturedLay;
  /** Takes a roll's new lay; gives all lays of the cloth where they are better so. Otherwise null. */
  readonly take: (lay: RollLay) => readonly PicturedLay[] | null;
  /** Takes all lays of the cloth at once, where they are better so; gives the best then. */
  readonly takeAll: (lays: readonly RollLay[]) => readonly PicturedLay[];
}

/** Begins with what the run file has laid and pinned, as far as it may lie so still. */
export function openBestKnown(cloth: Cloth, { parts, rolls, rules }: ClothToLay): BestKnown {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  let best: readonly RollLay[] = rolls.map(({ roll, pins, start = [] }) => ({
    roll,
    placements: [...pins.filter(({ label }) => byLabel.has(label)), ...start],
  }));
  const isSame = (one: RollLay, other: RollLay): boolean => one.roll.name === other.roll.name;
  const better = (lays: readonly RollLay[]): boolean => {
    const more = countOf(lays) - countOf(best);
    return more > 0 || (more === 0 && lengthOf(lays, byLabel) <= lengthOf(best, byLabel));
  };
  const shown = ({ roll, placements }: RollLay): PicturedLay => {
    const { pins } = rolls.find((one) => one.roll.name === roll.name)!;
    return picturedLay(
      cloth,
      roll,
      placements,
      pins.map(({ label }) => label),
      byLabel,
      rules.biteLength,
    );
  };
  const pictured = (): PicturedLay[] =>
    best.filter(({ placements }) => placements.length > 0).map(shown);
  return {
    shown,
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
