import { Refusal, distinctFindings } from '../../base/findings.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { rotation, transformPath } from '../../geometry/paths/transform.ts';
import type { Part } from '../../handing/part.ts';
import { materialArea } from '../../lay/lay-parts.ts';
import { triedRotations, usableWidth } from '../../lay/lay.ts';
import type { Cloth } from '../../pattern/shop/cloth.ts';
import { clothSample, isCutFrom } from '../../pattern/shop/cloth.ts';
import type { Turns } from '../../pattern/words.ts';
import type { Job } from '../../run/job.ts';
import { clothsOfParts } from '../../run/job.ts';
import { readOrders, withSoundOrders } from '../../run/read-orders.ts';
import { readRun, rollsOf } from '../../run/run-file.ts';
import type { ProposedOrder, Together } from '../api/together.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFileIn } from '../workshop/workshop.ts';
import { jobOf } from './cached-job.ts';
import { capital } from '../../base/wording.ts';

/**
 * Says which orders of a run are cut from one cloth, and proposes which of them come first. It changes
 * nothing. Orders that are refused are left out, and named. Throws a Refusal where the run is refused for
 * something else.
 */
export function together({ shop, run }: { shop: Workshop; run: string }): Together {
  const { needed, left } = neededBy(shop, run);
  const cloths = needed.cloths.map((cloth) => sharedCloth(needed, cloth));
  return {
    cloths: byFirstDay(cloths),
    left: left.map(({ order }) => order),
    findings: distinctFindings(left.flatMap(({ findings }) => findings)),
  };
}

type Needed = Pick<Job, 'run' | 'parts' | 'cloths'>;

/** What the orders of a run need: of all, or of those that are sound. */
function neededBy(
  shop: Workshop,
  name: string,
): { needed: Needed; left: ReturnType<typeof withSoundOrders>['left'] } {
  try {
    return { needed: jobOf(shop, name), left: [] };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const { run, left } = withSoundOrders(readRun(runFileIn(shop, name)), shop.shared);
    if (left.length === 0 || run.orders.length === 0) throw error;
    const { ordered, materials } = readOrders(run, shop.shared);
    const parts = ordered.flatMap((one) => one.parts);
    return { needed: { run, parts, cloths: clothsOfParts(parts, materials) }, left };
  }
}

type SharedCloth = Together['cloths'][number];

/** Cloths by the day on which the first of their orders is due, those without a day last. */
function byFirstDay(cloths: readonly SharedCloth[]): SharedCloth[] {
  // The orders of a cloth are in the order of their days. Letters come behind all days.
  const first = ({ orders }: SharedCloth): string => orders[0]!.due ?? 'none';
  return cloths.toSorted((a, b) => Number(first(a) > first(b)) - Number(first(a) < first(b)));
}

function sharedCloth({ run, parts: all }: Needed, cloth: Cloth): SharedCloth {
  const { material, colour } = cloth;
  const own = all.filter((part) => isCutFrom(part, cloth));
  const rolls = rollsOf(run, cloth);
  // What fits on the widest of its rolls can be cut.
  const usable = Math.max(...rolls.map(usableWidth));
  const length = rolls.reduce((sum, roll) => sum + roll.length, 0);
  const wanted = run.orders.flatMap(({ order, due = null }): WantedOrder[] => {
    const parts = own.filter((part) => part.order === order);
    if (parts.length === 0) return [];
    return [{ order, due, parts: parts.length, widest: widestOf(parts, material.turns) }];
  });
  return {
    material: material.name,
    colour: colour ?? null,
    title: material.title,
    sample: clothSample(cloth) ?? null,
    ...inProposedOrder(wanted, usable),
    // A lay is measured from the roll's start.
    least:
      Math.min(...rolls.map(({ startMargin }) => startMargin)) +
      leastLength(own, material.turns, usable),
    length: length === Infinity ? null : length,
  };
}

/**
 * The length (mm) that parts take at least on a roll of this usable width: their area without any gap, or
 * the longest of them in the turn in which it is shortest and not too wide.
 */
export function leastLength(parts: readonly Part[], turns: Turns, usable: number): number {
  const area = parts.reduce((sum, part) => sum + materialArea(part), 0);
  const lengths = firstSets(parts).map((part) => {
    const sizes = sizesOf(part, turns);
    const fitting = sizes.filter(({ across }) => across <= usable);
    return Math.min(...(fitting.length === 0 ? sizes : fitting).map(({ along }) => along));
  });
  return Math.max(area / usable, ...lengths);
}

/** All sets of an order have the same parts: it is enough to look at the first. */
function firstSets(parts: readonly Part[]): Part[] {
  return parts.filter(({ set }) => set === 1);
}

/** The part of an order that takes most of the roll's width, and how much, mm. */
interface WidestPart {
  readonly name: string;
  readonly across: number;
}

interface WantedOrder {
  readonly order: string;
  readonly due: string | null;
  readonly parts: number;
  readonly widest: WidestPart;
}

/** The widest part, each in the turn in which it takes least of the roll's width. */
function widestOf(parts: readonly Part[], turns: Turns): WidestPart {
  return firstSets(parts)
    .map((part) => ({
      name: part.name,
      across: Math.min(...sizesOf(part, turns).map(({ across }) => across)),
    }))
    .reduce((widest, one) => (one.across > widest.across ? one : widest));
}

/** How much of the roll a part takes in each turn that is tried, mm. */
function sizesOf(part: Part, turns: Turns): { readonly along: number; readonly across: number }[] {
  return triedRotations(part, turns).map((deg) => {
    const { minX, minY, maxX, maxY } = boxOfPath(transformPath(rotation(deg), part.cut));
    return { along: maxX - minX, across: maxY - minY };
  });
}

/**
 * Orders as it is proposed to cut them: by the day on which they are due, those without a day last. Of
 * one day, those come first that need the width of the roll (`usable`, mm), since small parts fill what
 * is left beside them. What all have alike is said once, in the note.
 */
export function inProposedOrder(
  orders: readonly WantedOrder[],
  usable: number,
): Pick<SharedCloth, 'orders' | 'note'> {
  const isWide = ({ widest }: WantedOrder): boolean => widest.across > usable / 2;
  const rank = (one: WantedOrder): string => `${one.due ?? 'none'} ${isWide(one) ? 0 : 1}`;
  const sorted = orders.toSorted((a, b) => (rank(a) < rank(b) ? -1 : Number(rank(a) > rank(b))));
  const isOneDay = new Set(orders.map(({ due }) => due)).size === 1;
  const isMixed = ({ due }: WantedOrder): boolean => {
    const sameDay = orders.filter((other) => other.due === due);
    return sameDay.some(isWide) && !sameDay.every(isWide);
  };
  const proposed = sorted.map((one): ProposedOrder => {
    const { order, due, parts, widest } = one;
    const size = isWide(one) ? `wide (${widest.name}: ${Math.ceil(widest.across)} mm)` : 'small';
    const said = [...(isOneDay ? [] : [dayWords(due)]), ...(isMixed(one) ? [size] : [])];
    return { order, due, parts, why: said.join(', ') };
  });
  const notes = [
    ...(isOneDay
      ? [
          `${orders[0]!.due !== null && orders.length > 1 ? 'all ' : ''}${dayWords(orders[0]!.due)}.`,
        ]
      : []),
    ...(orders.some(isMixed)
      ? [
          `Wide is what takes more than half of the ${Math.floor(usable)} mm across: nothing as wide fits beside it. Small parts fill what is left.`,
        ]
      : []),
  ];
  const note = notes.join(' ');
  return { orders: proposed, note: capital(note) };
}

function dayWords(due: string | null): string {
  return due === null ? 'no day said' : `due ${due}`;
}
