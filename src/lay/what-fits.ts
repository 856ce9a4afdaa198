import type { Finding } from '../base/findings.ts';
import { Refusal } from '../base/findings.ts';
import { metresUp } from '../base/wording.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import type { Part } from '../handing/part.ts';
import { clothName } from '../pattern/shop/cloth.ts';
import { layError, squareWords } from './findings.ts';
import { checkFitsRoll } from './kinds.ts';
import type { Lay, LayRules, Roll } from './lay.ts';
import { usableWidth } from './lay.ts';
import { ending } from './engine/engine.ts';
import type { FoundLay, LaySearch } from './lay-parts.ts';
import { layParts } from './lay-parts.ts';
import { besidePins } from './pins.ts';
import type { RollToFill } from './rolls.ts';
import { capacity, checkPinsKnown, fitsRoll, lengthFor, shortBy } from './rolls.ts';
import type { SetOfParts } from './sets.ts';
import { hasPin, hoped, hopefulOf, setsOf, thatMayFit, wantedWithout } from './sets.ts';

/** How a search that keeps what fits goes on: for so many seconds, in all. */
export interface TimedSearch extends Pick<
  LaySearch,
  'seed' | 'threads' | 'engine' | 'found' | 'trying'
> {
  readonly seconds: number;
  /** One byte. Setting it as `ending` says ends the search early. */
  readonly stop: SharedArrayBuffer;
  /** Told of the sets for which there seems to be no room: all of them, whenever they are others. */
  readonly unfit?: (left: readonly Finding[]) => void;
}

/** What found room, and why the rest did not. */
export interface WhatFits {
  readonly lays: readonly Lay[];
  /** One for each set that lies nowhere. */
  readonly left: readonly Finding[];
}

/** Rolls with what may stay of earlier lays on them. */
export interface SoundRolls {
  readonly rolls: readonly RollToFill[];
  /** Why the rest of the earlier lays can lie so no longer. */
  readonly faults: readonly Finding[];
}

/** Takes out of earlier lays what is pinned, what is no part any more, and what can no longer lie so. */
export function soundRolls(
  parts: readonly Part[],
  rolls: readonly RollToFill[],
  rules: LayRules,
): SoundRolls {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const faults: Finding[] = [];
  const sound = rolls.map(({ roll, pins, start = [] }): RollToFill => {
    const known = besidePins(start, pins, byLabel, roll, rules);
    faults.push(...known.faults);
    return { roll, pins, start: known.start };
  });
  return { rolls: sound, faults };
}

/** A first lay that is longer than its roll by more than this is not shortened until it fits: fewer sets are tried at once. */
const mayBeShortened = 1.35;

/** Sets that are tried for this share of a roll's time without finding room are too many. */
const patience = 0.35;

/**
 * Lays on one roll or several what finds room there; a set lies on one roll or nowhere, but for parts that a
 * person has pinned. Short rolls and remnants are used up first. On each, sets with pins there come first, then
 * those that lie there already, then the largest. The earlier lays are as soundRolls leaves them. Throws a
 * Refusal for pins that cannot be.
 */
export async function layWhatFits(
  parts: readonly Part[],
  material: string,
  rolls: readonly RollToFill[],
  rules: LayRules,
  search: TimedSearch,
): Promise<WhatFits> {
  checkPinsKnown(parts, rolls);
  const began = Date.now();
  const sets = setsOf(parts);
  const inOrder = rolls.toSorted((a, b) => capacity(a.roll) - capacity(b.roll));
  const missing = new Map<SetOfParts, number>();
  const cloth = clothName(material, rolls[0]!.roll.colour);
  const whyNot = (
    set: SetOfParts,
    here: ReadonlyMap<SetOfParts, number>,
    among: readonly SetOfParts[] = [set],
  ): Finding => {
    const by = Math.min(missing.get(set) ?? Infinity, here.get(set) ?? Infinity);
    const why =
      by < Infinity
        ? `${missingWords(by, among, inOrder.at(-1)!.roll, lays)}. A set stays on one roll`
        : whyOn(set, inOrder, rules);
    return noRoom(set, sets, cloth, why);
  };
  const lays: Lay[] = [];
  let waiting = sets;
  for (const [i, one] of inOrder.entries()) {
    const later = inOrder.slice(i + 1);
    const left = search.seconds - (Date.now() - began) / 1000;
    // A set lies where a person has pinned parts of it, or nowhere.
    const others = inOrder.filter((other) => other !== one);
    const free = waiting.filter((set) => !others.some(({ pins }) => hasPin(set, pins)));
    const own = new Map<SetOfParts, number>();
    const { lay, laid } = await filled(one, free, material, rules, {
      ...search,
      seconds: Math.max(0, left / (later.length + 1)),
      short: (set, by) => own.set(set, by),
      putOff: (some) => {
        if (later.length === 0) search.unfit?.(some.map((set) => whyNot(set, own)));
      },
    });
    if (lay !== null) lays.push(lay);
    for (const [set, by] of own) missing.set(set, Math.min(by, missing.get(set) ?? Infinity));
    waiting = waiting.filter((set) => !laid.includes(set));
  }
  return { lays, left: waiting.map((set) => whyNot(set, missing, waiting)) };
}

/**
 * How much of a roll is missing. `by`: for one set, mm; `among`: all sets that find no room, which would lie on a roll
 * like this about as densely as the lays that there are.
 */
function missingWords(
  by: number,
  among: readonly SetOfParts[],
  roll: Roll,
  lays: readonly Lay[],
): string {
  const alone = `about ${metresUp(by)} of roll are missing`;
  if (among.length === 1) return alone;
  const longest = lays.toSorted((a, b) => b.length - a.length)[0];
  const all = lengthFor(among, roll, longest?.density);
  return `${alone} for it alone, about ${metresUp(all)} for all ${among.length} sets that find no room`;
}

interface RollSearch extends TimedSearch {
  /** Told by how much (mm) the roll is too short for a set together with those before it. */
  readonly short: (set: SetOfParts, by: number) => void;
  /** Told of the sets that are not tried on this roll, or no longer. */
  readonly putOff: (sets: readonly SetOfParts[]) => void;
}

interface Filled {
  readonly lay: Lay | null;
  readonly laid: readonly SetOfParts[];
}

/** Fills a roll with as many sets as find room on it within the time. */
async function filled(
  { roll, pins, start = [] }: RollToFill,
  sets: readonly SetOfParts[],
  material: string,
  rules: LayRules,
  search: RollSearch,
): Promise<Filled> {
  const until = Date.now() + 1000 * search.seconds;
  const rank = (set: SetOfParts): number => (hasPin(set, pins) ? 0 : hasPin(set, start) ? 1 : 2);
  const held = sets
    .flatMap((set) => set.parts)
    .filter(({ label }) => pins.some((pin) => pin.label === label));
  const inOrder = sets
    .filter((set) => hasPin(set, pins) || fitsRoll(set.parts, roll, rules))
    .toSorted((a, b) => rank(a) - rank(b));
  let wanted = inOrder;
  for (;;) {
    const chosen = thatMayFit(wanted, capacity(roll));
    for (const set of wanted.filter((one) => !chosen.includes(one))) {
      search.short(set, shortBy([...chosen, set], roll));
    }
    search.putOff(sets.filter((set) => !chosen.includes(set)));
    const own = [...new Set([...chosen.flatMap((set) => set.parts), ...held])];
    if (own.length === 0) return { lay: null, laid: [] };
    const lay = await tried(own, material, { roll, pins, start }, rules, search, until);
    if (chosen.length === 0 || lay.length <= roll.length + samePoint) {
      for (const set of wanted.filter((one) => !chosen.includes(one))) {
        search.short(set, shortBy([...chosen, set], roll, lay.density));
      }
      return { lay, laid: chosen };
    }
    const kept = hopefulOf(chosen, lay, search.seconds > 0 ? hoped : 1);
    const still = wantedWithout(chosen[kept]!, wanted, inOrder);
    for (const set of wanted) if (!still.includes(set)) search.short(set, lay.length - roll.length);
    wanted = still;
  }
}

/** A lay that is searched for until the time is over, or until there seems to be no room for all parts. */
async function tried(
  parts: readonly Part[],
  material: string,
  { roll, pins, start }: Required<RollToFill>,
  rules: LayRules,
  search: RollSearch,
  until: number,
): Promise<Lay> {
  const stop = new SharedArrayBuffer(1);
  const end = (how: number): number => Atomics.store(new Uint8Array(stop), 0, how);
  /** How the whole search is to end; 0: not yet. */
  const said = (): number => Atomics.load(new Uint8Array(search.stop), 0);
  let fits = false;
  const left = Math.max(0, until - Date.now());
  const giveUp = (): number => end(said() === 0 ? ending.withFirst : said());
  const patient = setTimeout(() => (fits ? 0 : giveUp()), patience * left);
  const heard = setInterval(() => (said() === 0 ? 0 : end(said())), 20);
  if (said() !== 0) end(said());
  try {
    return await layParts(parts, material, roll, rules, {
      seed: search.seed,
      limit: { seconds: left / 1000 },
      stop,
      found: (lay: FoundLay) => {
        fits ||= lay.length <= roll.length + samePoint;
        if (lay.length > mayBeShortened * roll.length) giveUp();
        // What is longer than the roll is no lay of it.
        if (fits) search.found?.(lay);
      },
      pins,
      ...(start.length === 0 ? {} : { start }),
      ...(search.threads === undefined ? {} : { threads: search.threads }),
      ...(search.engine && { engine: search.engine }),
      ...(search.trying === undefined ? {} : { trying: search.trying }),
    });
  } finally {
    clearTimeout(patient);
    clearInterval(heard);
  }
}

/**
 * A warning for a roll on which none of the sets can ever lie as a whole: a part of each is too large for it, or
 * all its parts together are. null: one may have room.
 */
export function holdsNoSet(parts: readonly Part[], roll: Roll, rules: LayRules): Finding | null {
  const sets = setsOf(parts);
  const room = capacity(roll);
  if (sets.some((set) => set.area <= room && fitsRoll(set.parts, roll, rules))) return null;
  const [small] = sets.toSorted((a, b) => a.area - b.area);
  if (small === undefined) return null;
  const why =
    small.area > room
      ? `even the smallest has ${squareWords(small.area)} of parts, and it has ${squareWords(room)}`
      : 'a part of each is too wide or too long for it';
  return {
    severity: 'warning',
    rule: 'holds-no-set',
    message: `no set of this run has room on ${roll.name ?? 'this roll'}: ${why}. A set stays on one roll.`,
    todo: 'Keep it for lost parts, or pin single parts on it by hand.',
    where: {},
  };
}

/** Why a set fits no roll in any place. */
function whyOn({ parts }: SetOfParts, rolls: readonly RollToFill[], rules: LayRules): string {
  try {
    checkFitsRoll(parts, rules, Math.max(...rolls.map(({ roll }) => usableWidth(roll))));
    return 'no roll is as long as its longest part';
  } catch (error) {
    if (error instanceof Refusal) return error.findings[0]!.message.replace(/\.$/, '');
    throw error;
  }
}

/** `why`: what keeps it from every roll. */
function noRoom(
  { name, order }: SetOfParts,
  all: readonly SetOfParts[],
  cloth: string,
  why: string,
): Finding {
  const isOnly = all.filter((set) => set.order === order).length === 1;
  const words = `${isOnly ? `order ${order}` : name} does not fit on ${cloth}`;
  return layError(
    'no-room',
    `${words}: ${why}.`,
    'Load a longer roll or one more, move the order to another run, or search longer: lays get shorter, and less is missing.',
  );
}
