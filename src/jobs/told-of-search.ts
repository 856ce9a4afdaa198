import type { Finding } from '../base/findings.ts';
import { listed } from '../base/wording.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import type { Lay } from '../lay/lay.ts';
import { layName } from '../lay/lay.ts';
import { capacity } from '../lay/rolls.ts';
import { holdsNoSet } from '../lay/what-fits.ts';
import type { Cloth } from '../pattern/shop/cloth.ts';
import { isCutFrom } from '../pattern/shop/cloth.ts';
import { recordedName } from '../program/record/run-record.ts';
import type { Job } from '../run/job.ts';
import { loadedRolls } from '../run/job.ts';
import type { LoadedRoll } from '../run/run-file.ts';
import { rollsOf } from '../run/run-file.ts';
import type { LayOptions } from './lay-materials.ts';
import { layRules } from './lay-materials.ts';

/** What a search came to, as far as it is told beside its lays. */
export interface SearchDone {
  readonly lays: readonly Lay[];
  /** The cloths that were hardly searched for, by name. */
  readonly hardly: readonly string[];
}

/**
 * Notes on a search, for whoever asked for it: what was not searched for, or hardly; a start that led nowhere; rolls
 * that nothing lies on.
 */
export function toldOfSearch(job: Job, options: LayOptions, done: SearchDone): Finding[] {
  return [
    ...laidAsItWas(job, options),
    ...cutShortSearch(options, done.hardly),
    ...startUsed(job, options, done.lays),
    ...emptyRolls(job, done.lays),
  ];
}

function searchNote(rule: string, message: string, todo: string): Finding {
  return { severity: 'note', rule, message, todo, where: {} };
}

/** Parts were not searched for although somebody has said how to search: the run file has them laid. */
function laidAsItWas(job: Job, { limit, streams, from, goOn }: LayOptions): Finding[] {
  const isAsked = limit !== undefined || streams !== undefined || from !== undefined;
  const laid = loadedRolls(job).flatMap(({ roll }) => roll.laid);
  if (!isAsked || goOn === true || laid.length === 0) return [];
  const said =
    laid.length === 1
      ? '1 part lies as the run file has it laid: it was not searched for.'
      : `${laid.length} parts lie as the run file has them laid: they were not searched for.`;
  return [searchNote('laid-as-it-was', said, 'Say --go-on to search on from there.')];
}

/** The search was stopped, or its time was over before some cloths had their share of it. */
function cutShortSearch({ signal }: LayOptions, cloths: readonly string[]): Finding[] {
  const rest = `${listed(cloths)} ${cloths.length === 1 ? 'was' : 'were'} hardly searched for`;
  const todo = 'To save cloth, search on: --from begins with the lays of this run.';
  if (signal?.aborted === true) {
    const said = 'the search was stopped: the lays are the best so far';
    return [searchNote('stopped', `${said}${cloths.length === 0 ? '' : `; ${rest}`}.`, todo)];
  }
  if (cloths.length === 0) return [];
  return [searchNote('hardly-searched', `${rest}: there was no time for more.`, todo)];
}

/** What became of the lays that the search began with. */
function startUsed(job: Job, options: LayOptions, lays: readonly Lay[]): Finding[] {
  const { from } = options;
  const before = new Map(from?.lays.map((lay) => [recordedName(lay), lay.length]));
  const known = lays.filter((lay) => before.has(layName(lay)));
  if (from !== undefined && known.length === 0) {
    const said = 'no roll of the earlier run is in this one: the search began anew.';
    return [
      searchNote('nothing-to-begin-with', said, 'Name the run that --from should begin with.'),
    ];
  }
  const moved = dealtAnew(job, options, lays);
  // Where sets have moved, lengths of single rolls say nothing.
  if (moved.length > 0 || from === undefined) return moved;
  if (known.some((lay) => lay.length < before.get(layName(lay))! - samePoint)) return [];
  const said = 'no lay became shorter than in the run that the search began with.';
  return [searchNote('nothing-gained', said, 'Search longer, or with another --seed.')];
}

/** The sets that the search began with lie on other rolls now. */
function dealtAnew(job: Job, options: LayOptions, lays: readonly Lay[]): Finding[] {
  const before = rollsBefore(job, options);
  const ways = lays.flatMap((lay) =>
    lay.placements.flatMap(({ label }) => {
      const was = before.get(label);
      return was === undefined || was === layName(lay) ? [] : [`from ${was} to ${layName(lay)}`];
    }),
  );
  if (ways.length === 0) return [];
  const said = `sets have gone ${listed([...new Set(ways)])}: they were dealt anew.`;
  return [
    searchNote('dealt-anew', said, 'Compare the length of all rolls, and keep the better run.'),
  ];
}

/** The name of the lay that each part was on before the search. */
function rollsBefore(job: Job, { from, goOn }: LayOptions): Map<string, string> {
  if (goOn !== true) {
    const lays = from?.lays ?? [];
    return new Map(
      lays.flatMap((lay) => lay.placements.map(({ label }) => [label, recordedName(lay)])),
    );
  }
  return new Map(
    loadedRolls(job).flatMap(({ cloth, roll }) =>
      roll.laid.map(({ part }) => [part, nameOf(cloth, roll)]),
    ),
  );
}

/** Each roll of the run file that nothing lies on. */
function emptyRolls(job: Job, lays: readonly Lay[]): Finding[] {
  const used = new Set(lays.map(layName));
  return job.cloths.flatMap((cloth) => {
    const parts = job.parts.filter((part) => isCutFrom(part, cloth));
    const rules = layRules(cloth.material, job.cutter);
    // In this order rolls are filled.
    const rolls = rollsOf(job.run, cloth).toSorted((a, b) => capacity(a) - capacity(b));
    const named = rolls.map((roll) => ({ roll, name: nameOf(cloth, roll) }));
    const last = named.findLastIndex(({ name }) => used.has(name));
    return named.flatMap(({ roll, name }, i) => {
      if (used.has(name)) return [];
      const small = holdsNoSet(parts, roll, rules);
      const tried = 'the sets that were tried found no room on it.';
      const why = small?.message ?? (i > last ? 'it was not needed.' : tried);
      const more = 'Search longer if one should fit, or pin parts of a set on it.';
      const todo = small?.todo ?? (i > last ? 'Leave it on the shelf.' : more);
      return [searchNote('empty-roll', `nothing lies on ${name}: ${why}`, todo)];
    });
  });
}

function nameOf({ material }: Cloth, roll: LoadedRoll): string {
  return layName({ material: material.name, roll });
}
