import type { Finding } from '../base/findings.ts';
import { Refusal } from '../base/findings.ts';
import { areaOf } from '../geometry/paths/area.ts';
import { metresUp } from '../base/wording.ts';
import { polyline } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import type { Part } from '../handing/part.ts';
import { clothName } from '../pattern/shop/cloth.ts';
import { layError, squareWords } from './findings.ts';
import { checkFitsRoll } from './kinds.ts';
import type { Lay, LayRules, Placement, Roll } from './lay.ts';
import { usableWidth } from './lay.ts';
import type { LaySearch } from './lay-parts.ts';
import { checkRollLength, layParts, materialArea } from './lay-parts.ts';
import { unknownPin } from './pins.ts';
import type { SetOfParts } from './sets.ts';
import { areaOfSets, hasPin, hoped, hopefulOf, setsOf, thatMayFit, wantedWithout } from './sets.ts';

/** A roll to lay parts on, with parts that are to lie there already. */
export interface RollToFill {
  readonly roll: Roll;
  readonly pins: readonly Placement[];
  /** An earlier lay on this roll: the search begins with it. */
  readonly start?: readonly Placement[];
}

/**
 * Lays the parts of one material on one roll or several. Short rolls and remnants are used up first. Each
 * takes the largest sets that find room on it, and a set never lies on two rolls. Throws a Refusal if
 * sets are left over, and otherwise throws as layParts does.
 */
export async function layOnRolls(
  parts: readonly Part[],
  material: string,
  rolls: readonly RollToFill[],
  rules: LayRules,
  search: Omit<LaySearch, 'pins' | 'start'>,
): Promise<Lay[]> {
  // A search round parts that lie already takes long: nobody waits for one that can end in nothing.
  if (rolls.some(({ pins }) => pins.length > 0)) checkArea(parts, material, rolls);
  const [only] = rolls;
  if (rolls.length === 1) {
    const { roll, ...known } = only!;
    const lay = await layParts(parts, material, roll, rules, { ...search, ...known });
    checkRollLength(lay, parts);
    return [lay];
  }
  checkPinsKnown(parts, rolls);
  const lays: Lay[] = [];
  const tried: Tried[] = [];
  let waiting = setsOf(parts);
  for (const { parts: own } of waiting) checkFitsOne(own, rolls, rules);
  const inOrder = [...rolls].sort((a, b) => capacity(a.roll) - capacity(b.roll));
  for (const [i, one] of inOrder.entries()) {
    const pinnedLater = inOrder.slice(i + 1).flatMap(({ pins }) => pins);
    const free = waiting.filter((set) => !hasPin(set, pinnedLater));
    const filled = await fill(one, free, material, rules, search);
    const { lay, sets } = filled;
    if (lay !== null) lays.push(lay);
    tried.push({ ...filled, roll: one.roll });
    waiting = waiting.filter((set) => !sets.includes(set));
  }
  if (waiting.length > 0) throw new Refusal([leftOver(waiting, material, tried)]);
  return lays;
}

/** Refuses parts that have more area than all rolls together. */
function checkArea(parts: readonly Part[], material: string, rolls: readonly RollToFill[]): void {
  const area = parts.reduce((all, part) => all + materialArea(part), 0);
  const room = rolls.reduce((all, { roll }) => all + capacity(roll), 0);
  // Sums and roundings may be off by a little of it.
  if (area <= room * (1 + 1e-6)) return;
  const width = Math.max(...rolls.map(({ roll }) => usableWidth(roll)));
  const cloth = clothName(material, rolls[0]!.roll.colour);
  throw new Refusal([
    layError(
      rolls.length === 1 ? 'roll-too-short' : 'rolls-too-short',
      `the parts of ${cloth} have ${squareWords(area)}, and ${rolls.length === 1 ? 'its roll has' : 'its rolls have'} ${squareWords(room)}: at least ${metresUp((area - room) / width)} are missing.`,
      'Take a longer roll, or move an order to another run; a set stays on one roll.',
    ),
  ]);
}

/**
 * Throws a Refusal if some part of a set is too wide for every roll, or too long for the bed; its message
 * is the one for the widest roll. A set that is only too long for its rolls passes here, and is left over
 * later.
 */
function checkFitsOne(parts: readonly Part[], rolls: readonly RollToFill[], rules: LayRules): void {
  if (rolls.some(({ roll }) => fitsRoll(parts, roll, rules))) return;
  checkFitsRoll(parts, rules, Math.max(...rolls.map(({ roll }) => usableWidth(roll))));
}

/** Refuses pins of parts that are not there, and pins that would put a part or a set on two rolls. */
export function checkPinsKnown(parts: readonly Part[], rolls: readonly RollToFill[]): void {
  const labels = new Set(parts.map(({ label }) => label));
  const unknown = rolls.flatMap(({ pins }) => pins).filter(({ label }) => !labels.has(label));
  if (unknown.length > 0) throw new Refusal(unknown.map(({ label }) => unknownPin(label)));
  for (const set of setsOf(parts)) {
    const on = rolls.filter(({ pins }) => hasPin(set, pins)).map(({ roll }) => roll.name);
    if (on.length > 1) throw new Refusal([pinnedApart(set, on.join(' and '))]);
  }
}

function pinnedApart({ name, parts }: SetOfParts, rolls: string): Finding {
  return layError(
    'pins-on-two-rolls',
    `parts of ${name} are pinned on the rolls ${rolls}. A set stays on one roll.`,
    'Pin all its parts on one of them.',
    parts[0]!.label,
  );
}

interface Filled {
  readonly lay: Lay | null;
  readonly sets: readonly SetOfParts[];
  /** By how much (mm) the roll was too short for sets that were tried on it and then left out, with those before them. */
  readonly short: ReadonlyMap<SetOfParts, number>;
}

/** A roll that was filled as far as it goes. */
interface Tried extends Filled {
  readonly roll: Roll;
}

/** Fills a roll with as many sets as find room on it. Sets with pins on the roll come first. */
async function fill(
  { roll, ...known }: RollToFill,
  sets: readonly SetOfParts[],
  material: string,
  rules: LayRules,
  search: LaySearch,
): Promise<Filled> {
  const pinned = sets.filter((set) => hasPin(set, known.pins));
  const others = sets.filter((set) => !pinned.includes(set) && fitsRoll(set.parts, roll, rules));
  const short = new Map<SetOfParts, number>();
  let wanted = others;
  for (;;) {
    const free = thatMayFit(wanted, capacity(roll) - areaOfSets(pinned));
    const chosen = [...pinned, ...free];
    if (chosen.length === 0) return { lay: null, sets: [], short };
    const parts = chosen.flatMap((set) => set.parts);
    const lay = await layParts(parts, material, roll, rules, { ...search, ...known });
    if (lay.length <= roll.length + samePoint) return { lay, sets: chosen, short };
    if (free.length === 0) checkRollLength(lay, parts);
    for (const set of free) short.set(set, lay.length - roll.length);
    const kept = Math.max(0, hopefulOf(chosen, lay, hoped) - pinned.length);
    wanted = wantedWithout(free[kept]!, wanted, others);
  }
}

/** Upper bound for what can be cut from a roll, mm2. */
export function capacity(roll: Roll): number {
  const defects = (roll.defects ?? []).reduce((lost, defect) => lost + polygonArea(defect), 0);
  const whole =
    roll.outline === undefined
      ? (roll.length - roll.startMargin) * usableWidth(roll)
      : polygonArea(roll.outline);
  return Math.max(0, whole - defects);
}

function polygonArea(points: readonly Point[]): number {
  return areaOf(polyline(points, true));
}

export function fitsRoll(parts: readonly Part[], roll: Roll, rules: LayRules): boolean {
  const left = roll.length - roll.startMargin;
  const { joinOverlap, biteLength, ...others } = rules;
  // A part that may be longer than the bed must still fit the roll.
  const longest = joinOverlap === undefined ? Math.min(biteLength, left) : left;
  try {
    checkFitsRoll(parts, { ...others, biteLength: longest }, usableWidth(roll));
    return true;
  } catch (error) {
    if (error instanceof Refusal) return false;
    throw error;
  }
}

/** How dense a lay of carpet usually is, until one is there. */
const usual = 0.8;

/** By how much (mm) a roll is too short for sets, in a lay of this density if there is one already. */
export function shortBy(sets: readonly SetOfParts[], roll: Roll, density = usual): number {
  return Math.max(1, lengthFor(sets, roll, density) - capacity(roll) / usableWidth(roll));
}

/** How much (mm) of a roll as wide as this one sets take, in a lay of this density if there is one already. */
export function lengthFor(sets: readonly SetOfParts[], roll: Roll, density = usual): number {
  return areaOfSets(sets) / density / usableWidth(roll);
}

function leftOver(
  waiting: readonly SetOfParts[],
  material: string,
  tried: readonly Tried[],
): Finding {
  const missing = tried.map(({ roll, lay, sets, short }) => {
    const known = waiting.map((set) => short.get(set) ?? 0);
    return Math.max(...known, shortBy([...sets, ...waiting], roll, lay?.density));
  });
  const names = waiting.map(({ name }) => name).join(', ');
  const on = tried.map(({ roll }) => roll.name).join(', ');
  const cloth = clothName(material, tried[0]!.roll.colour);
  return layError(
    'rolls-too-short',
    `the rolls of ${cloth} (${on}) have no room for ${names}: about ${metresUp(Math.min(...missing))} of roll are missing. A set stays on one roll.`,
    'Load a longer roll or one more, move an order to another run, or search longer: lays get shorter, and less is missing.',
  );
}
