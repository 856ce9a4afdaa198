import type { Finding } from '../base/findings.ts';
import { listed } from '../base/wording.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import type { Lay } from '../lay/lay.ts';
import { layName } from '../lay/lay.ts';
import { holdsNoSet } from '../lay/what-fits.ts';
import { isCutFrom } from '../pattern/shop/cloth.ts';
import { recordedName } from '../program/record/run-record.ts';
import type { Job } from '../run/job.ts';
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
    ...nothingGained(options, done.lays),
    ...emptyRolls(job, done.lays),
  ];
}

function searchNote(rule: string, message: string, todo: string): Finding {
  return { severity: 'note', rule, message, todo, where: {} };
}

/** Parts were not searched for although somebody has said how to search: the run file has them laid. */
function laidAsItWas(job: Job, { limit, streams, from, goOn }: LayOptions): Finding[] {
  const isAsked = limit !== undefined || streams !== undefined || from !== undefined;
  const laid = job.cloths.flatMap((cloth) => rollsOf(job.run, cloth).flatMap((roll) => roll.laid));
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

/** The lays are no shorter than those that the search began with, or none of those was of use. */
function nothingGained({ from }: LayOptions, lays: readonly Lay[]): Finding[] {
  if (from === undefined) return [];
  const before = new Map(from.lays.map((lay) => [recordedName(lay), lay.length]));
  const known = lays.filter((lay) => before.has(layName(lay)));
  if (known.length === 0) {
    const said = 'no roll of the earlier run is in this one: the search began anew.';
    return [
      searchNote('nothing-to-begin-with', said, 'Name the run that --from should begin with.'),
    ];
  }
  if (known.some((lay) => lay.length < before.get(layName(lay))! - samePoint)) return [];
  const said = 'no lay became shorter than in the run that the search began with.';
  return [searchNote('nothing-gained', said, 'Search longer, or with another --seed.')];
}

/** Each roll of the run file that nothing lies on. */
function emptyRolls(job: Job, lays: readonly Lay[]): Finding[] {
  const used = new Set(lays.map(layName));
  return job.cloths.flatMap((cloth) => {
    const { material } = cloth;
    const parts = job.parts.filter((part) => isCutFrom(part, cloth));
    return rollsOf(job.run, cloth)
      .map((roll) => ({ roll, name: layName({ material: material.name, roll }) }))
      .filter(({ name }) => !used.has(name))
      .map(({ roll, name }) => {
        const small = holdsNoSet(parts, roll, layRules(material, job.cutter));
        const why = small?.message ?? 'the sets lie on other rolls, or found no room on it.';
        const todo = small?.todo ?? 'Keep it, or pin parts of a set on it.';
        return searchNote('empty-roll', `nothing lies on ${name}: ${why}`, todo);
      });
  });
}
