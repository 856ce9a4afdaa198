import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';

/**
 * Something that is cut without a break: where the knife begins it, and where the knife is at its end.
 */
export interface Visit {
  readonly entry: Point;
  readonly exit: Point;
  /** Size of the part, mm2. */
  readonly size: number;
}

/**
 * What to visit, where the knife comes from, and where it goes afterwards. `before` holds pairs of
 * indexes: the first visit must come before the second.
 */
export interface Round {
  readonly visits: readonly Visit[];
  readonly from: Point;
  readonly to?: Point;
  readonly before: readonly (readonly [first: number, then: number])[];
}

/**
 * A step from a larger part to a smaller one must save this much travel, mm. Small parts are cut first
 * because they shift once the large ones round them are gone (common practice).
 */
export const smallFirst = 100;

/** Each visit is tried after so many of those that are nearest to it. */
const neighbours = 10;
/** At most so many neighbouring visits are moved together, and at most so many are reversed. */
const longestMove = 3;
const longestTurn = 40;
/** At most so many passes are made over all visits. */
const passes = 40;
/** A change must save more than this, mm. */
const gain = 1e-6;

/**
 * The cost of an order: its travel in mm, plus smallFirst for every step from a larger to a smaller part.
 */
export function travelCost({ visits, from, to }: Round, order: readonly number[]): number {
  const cost = stepCost(visits, from, to);
  return [...order, -1].reduce((sum, visit, i) => sum + cost(order[i - 1] ?? -1, visit), 0);
}

/**
 * The cost of going from one visit to another, as a function of their indexes. Index -1 stands for where
 * the knife comes from and for where it goes at the end.
 */
function stepCost(visits: readonly Visit[], from: Point, to: Point | undefined) {
  return (a: number, b: number): number => {
    const start = a === -1 ? from : visits[a]!.exit;
    const end = b === -1 ? to : visits[b]!.entry;
    if (end === undefined) return 0;
    const way = distance(start, end);
    const isDown = a !== -1 && b !== -1 && visits[b]!.size < visits[a]!.size * (1 - 1e-9);
    return isDown ? way + smallFirst : way;
  };
}

/**
 * An order of the visits with low travelCost that keeps every pair of `before`. The same round gives the
 * same order.
 *
 * The idea: begin with the order that always takes the cheapest next visit. Then try to move up to
 * longestMove neighbouring visits elsewhere, and to reverse up to longestTurn of them, for as long as
 * that saves anything.
 */
export function route(round: Round): number[] {
  const order = nearestNext(round);
  if (order.length < 3) return bestOfFew(round, order);
  return improved(round, order);
}

function bestOfFew(round: Round, order: number[]): number[] {
  const turned = order.toReversed();
  const isAllowed = round.before.length === 0;
  return isAllowed && travelCost(round, turned) < travelCost(round, order) - gain ? turned : order;
}

/**
 * The order that always takes the cheapest visit that does not have to wait for another. Throws
 * RangeError if visits wait for each other in a ring.
 */
export function nearestNext({ visits, from, to, before }: Round): number[] {
  const cost = stepCost(visits, from, to);
  const waiting = new Set(visits.keys());
  const order: number[] = [];
  while (waiting.size > 0) {
    const blocked = new Set(before.filter(([first]) => waiting.has(first)).map(([, then]) => then));
    let next = -1;
    let least = Infinity;
    for (const visit of waiting) {
      const own = blocked.has(visit) ? Infinity : cost(order.at(-1) ?? -1, visit);
      if (own < least) [next, least] = [visit, own];
    }
    if (next === -1) throw new RangeError('parts lie in each other’s cutouts in a ring');
    order.push(next);
    waiting.delete(next);
  }
  return order;
}

function improved(round: Round, order: number[]): number[] {
  const { visits, from, to, before } = round;
  const cost = stepCost(visits, from, to);
  const near = nearLists(visits);
  const isKept = (changed: readonly number[]): boolean => {
    const place = new Map(changed.map((visit, i) => [visit, i]));
    return before.every(([first, then]) => place.get(first)! < place.get(then)!);
  };
  let current = order;
  const at = (i: number): number => current[i] ?? -1;
  let place = placesOf(current);
  /** Takes a changed order, unless it breaks a pair of `before`. */
  const take = (changed: number[]): boolean => {
    if (before.length > 0 && !isKept(changed)) return false;
    current = changed;
    place = placesOf(current);
    return true;
  };
  const moveNextTo = (i: number, visit: number): boolean => {
    const start = place[visit]!;
    for (let count = 1; count <= longestMove && start + count <= current.length; count++) {
      const end = start + count - 1;
      if (i >= start - 1 && i <= end) continue;
      const [head, tail] = [at(start), at(end)];
      const saved =
        cost(at(start - 1), head) + cost(tail, at(end + 1)) - cost(at(start - 1), at(end + 1));
      const added = cost(at(i), head) + cost(tail, at(i + 1)) - cost(at(i), at(i + 1));
      if (added < saved - gain && take(moved(current, start, count, i))) return true;
    }
    return false;
  };
  const turnUpTo = (i: number, visit: number): boolean => {
    const end = place[visit]!;
    if (end <= i + 1 || end - i > longestTurn) return false;
    let [was, is] = [cost(at(i), at(i + 1)) + cost(at(end), at(end + 1)), 0];
    is = cost(at(i), at(end)) + cost(at(i + 1), at(end + 1));
    for (let k = i + 1; k < end; k++) {
      was += cost(at(k), at(k + 1));
      is += cost(at(k + 1), at(k));
    }
    if (is >= was - gain) return false;
    const middle = current.slice(i + 1, end + 1).reverse();
    return take([...current.slice(0, i + 1), ...middle, ...current.slice(end + 1)]);
  };
  for (let pass = 0; pass < passes; pass++) {
    let isBetter = false;
    for (let i = -1; i < current.length; i++) {
      const candidates = i === -1 ? visits.keys() : near[at(i)]!;
      for (const visit of candidates) {
        if (moveNextTo(i, visit) || turnUpTo(i, visit)) isBetter = true;
      }
    }
    if (!isBetter) break;
  }
  return current;
}

function placesOf(order: readonly number[]): number[] {
  const places: number[] = [];
  for (const [i, visit] of order.entries()) places[visit] = i;
  return places;
}

/**
 * The order with `count` visits, from the index `start` on, put after the one at index `behind`; -1 puts
 * them first.
 */
function moved(order: readonly number[], start: number, count: number, behind: number): number[] {
  const run = order.slice(start, start + count);
  const rest = [...order.slice(0, start), ...order.slice(start + count)];
  const to = (behind < start ? behind : behind - count) + 1;
  return [...rest.slice(0, to), ...run, ...rest.slice(to)];
}

/** For each visit, the visits that begin nearest to the place where it ends. */
function nearLists(visits: readonly Visit[]): number[][] {
  return visits.map(({ exit }, i) => {
    const best: { visit: number; way: number }[] = [];
    for (const [visit, { entry }] of visits.entries()) {
      const way = distance(exit, entry);
      if (visit === i || (best.length === neighbours && way >= best.at(-1)!.way)) continue;
      const to = best.findIndex((other) => way < other.way);
      best.splice(to === -1 ? best.length : to, 0, { visit, way });
      if (best.length > neighbours) best.pop();
    }
    return best.map(({ visit }) => visit);
  });
}
