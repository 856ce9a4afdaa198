import type { LayTable, SearchState } from '../../api/lay.ts';
import type { PicturedLay, PicturedRoll } from '../../api/pictured.ts';
import type { RackedRoll } from '../rack/racked-roll.ts';
import { isOfCloth, metres, percent, rollName } from '../words.ts';

/** The rolls of a run as they stand in the rack: how each is laid, and which is being searched. */
export function rackedLays(
  { parts, rolls }: Pick<LayTable, 'parts' | 'rolls'>,
  lays: ReadonlyMap<string, PicturedLay>,
  search: SearchState | null,
): RackedRoll[] {
  const cloths = [...new Set(rolls.map(clothOf))];
  const turn = search === null ? -1 : cloths.indexOf(search.cloth);
  return rolls.map((roll): RackedRoll => {
    const lay = lays.get(rollName(roll)) ?? null;
    const racked = { key: rollName(roll), words: rollName(roll), sample: roll.sample };
    const own = cloths.indexOf(clothOf(roll));
    if (search !== null && own === turn) return { ...racked, ...underWay(lay, search) };
    if (search !== null && (own > turn || turn < 0) && search.of > 1) {
      return { ...racked, state: `waits; ${laidWords(lay)}`, tone: 'waits' };
    }
    const cloth = rolls.filter((one) => isOfCloth(one, roll));
    const laid = cloth.reduce(
      (sum, one) => sum + (lays.get(rollName(one))?.placements.length ?? 0),
      0,
    );
    const missing = parts.filter((part) => isOfCloth(part, roll)).length - laid;
    if (lay === null && missing > 0) return { ...racked, state: 'not laid', tone: 'waits' };
    if (lay !== null && roll.length !== null && lay.length > roll.length) {
      return { ...racked, state: `${metres(lay.length)}: too short`, tone: 'open' };
    }
    if (missing > 0) {
      return { ...racked, state: `${laidWords(lay)}; ${missing} on no roll`, tone: 'open' };
    }
    return { ...racked, state: laidWords(lay), tone: 'done' };
  });
}

function clothOf(roll: PicturedRoll): string {
  return rollName({ ...roll, name: null });
}

function laidWords(lay: PicturedLay | null): string {
  return lay === null ? 'empty' : `${metres(lay.length)}, ${percent(lay.density)}`;
}

function underWay(
  lay: PicturedLay | null,
  { elapsed, left }: SearchState,
): Pick<RackedRoll, 'state' | 'tone' | 'share'> {
  const share = elapsed / Math.max(0.001, elapsed + left);
  return { state: `searching; ${laidWords(lay)}`, tone: 'busy', share };
}
