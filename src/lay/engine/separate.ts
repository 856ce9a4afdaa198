/**
 * The heart of the search: from a layout in which items overlap to one in which none do.
 *
 * The idea is a guided local search. Every pair of items has a severity (how badly the two overlap, 0
 * if they do not) and a weight (how much that counts). The cost of a place for an item is the sum of
 * weight times severity over all its neighbours. A round takes the items that overlap something, in
 * random order, and moves each to the cheapest place it can find: the best of some random places in the
 * strip and nearby, and the place it has, improved by small steps. After a round, pairs that still overlap get a larger
 * weight, and all others sink back towards 1. So a pair that resists becomes ever more expensive, until
 * it pays to disturb its neighbours instead: this is how the search leaves dead ends.
 *
 * Overlaps are measured by tables (pair-tables.ts), not by geometry. A move costs hundreds of look-ups,
 * and a search makes millions of moves, so everything below lies in flat typed arrays of one function.
 * Nothing is allocated inside a round.
 */
import type { Layout, Problem } from './layout.ts';
import { copyOf, newLayout, put, restore } from './layout.ts';
import { pairTables, roomFor, SearchIsOver } from './pair-tables.ts';

/**
 * When to give up. Rounds run on while the overlap falls. `rounds` of them in a row without a clear gain
 * are a strike: the best layout is restored and tried again. `strikes` strikes in a row end the search.
 */
interface Effort {
  readonly rounds: number;
  readonly strikes: number;
}

/**
 * Work that pauses before every round of moves, and then is gone on with or given up. So a search can be broken off and
 * gone on with at any round without a loss.
 */
export type Rounds<Result> = Generator<void, Result, void>;

/** Goes on with work for as long as `goOn` says so, which is asked at every pause. Returns its result, or null where it is not done. */
export function whileGoing<Result>(work: Rounds<Result>, goOn: () => boolean): Result | null {
  while (goOn()) {
    const { done, value } = work.next();
    if (done === true) return value;
  }
  return null;
}

/** A layout, and the means to free it of overlaps. */
export interface Separator {
  readonly layout: Layout;
  /**
   * Moves items until none overlap, and returns how many rounds that took. If it fails it returns null, and the layout
   * is the one that overlapped least on the way; if it is stopped, any.
   */
  readonly separate: (effort: Effort) => Rounds<number | null>;
  /** The sum of all severities in the layout as it was last separated. */
  readonly overlap: () => number;
}

/**
 * How many random places a move tries: in the whole strip, and where the item would meet the place it has.
 * The best of them is refined if it costs less than the present place, and the present place is, too.
 */
const placesTried = 30;
const placesNear = 15;
/** The two candidates of a move, as indexes of `bestTurn`, `bestX`, `bestY` and `bestCost`. */
const sampled = 0;
const here = 1;
/** No random place was better than the present one. */
const none = -1;

/** Weights grow without end while a pair overlaps; beyond this they would become infinite. */
const heaviest = 1e100;

/**
 * First and last step of a refinement, as shares of the item's smaller side. Both candidates are refined
 * coarsely; only the cheaper one is then refined finely.
 */
const coarse = { first: 0.3, least: 0.02 };
const fine = { first: 0.01, least: 0.001 };
/** A step that helped is followed by one longer by this factor. */
const longer = 1.1;

/** A gain smaller than 2 % does not count as one: the search has to get somewhere, not to crawl. */
const clearGain = 0.98;

/**
 * A separator for the items of `problem`. `random` gives numbers in [0, 1) and decides everything that is
 * left to chance; `stopped` is asked after every move and before every table, and breaks the search off.
 * Lengths are in the problem's unit.
 */
export function separator(
  problem: Problem,
  random: () => number,
  stopped: () => boolean = () => false,
): Separator {
  const { width, slack, wraps } = problem;
  const layout = newLayout(problem);
  const { turn, x, y, boxes } = layout;
  const movable = problem.turnsOf.length;
  const count = movable + problem.fixed.length;
  // In a strip that wraps, every item has two images: item i stands at i, i + count and i + 2 count.
  const places = turn.length;
  // The neighbours of the item in hand, gathered anew for each move.
  const near = roomFor(places);
  const { severityAt, costAgainst } = pairTables(problem.shapes, slack, near, stopped);

  // The turns that item i may take are choices[firstChoice[i]] up to, not with, choices[firstChoice[i + 1]].
  const choices = Int32Array.from(problem.turnsOf.flat());
  const firstChoice = new Int32Array(movable + 1);
  for (const [i, { length }] of problem.turnsOf.entries()) {
    firstChoice[i + 1] = firstChoice[i]! + length;
  }
  const ofTurns = (value: (t: (typeof problem.turns)[number]) => number): Float64Array =>
    Float64Array.from(problem.turns, value);
  // The box of each turn about its origin; what of it must lie in the strip; how far its origin may go
  // up and down; its smaller side.
  const left = ofTurns(({ minX }) => minX);
  const right = ofTurns(({ maxX }) => maxX);
  const below = ofTurns(({ minY }) => minY);
  const above = ofTurns(({ maxY }) => maxY);
  const keptLeft = ofTurns(({ kept }) => kept.minX);
  const keptRight = ofTurns(({ kept }) => kept.maxX);
  const leastY = ofTurns(({ kept }) => -kept.minY);
  const mostY = ofTurns(({ kept }) => width - kept.maxY);
  const side = ofTurns(({ kept }) => Math.min(kept.maxX - kept.minX, kept.maxY - kept.minY));

  // For the pair i, j at i * count + j, and the same again at j * count + i.
  const severity = new Float64Array(count * count);
  const weight = new Float64Array(count * count).fill(1);

  // How many others each item overlaps: rows of `severity` that hold only zeros need not be read.
  const overlapping = new Int32Array(count);
  // The indexes at which `weight` is above 1, the first `raisedCount` of this array: the only ones to lower.
  const raised = new Int32Array(count * count);
  let raisedCount = 0;
  // The items, shuffled before each round.
  const order = Int32Array.from({ length: movable }, (_, i) => i);

  // The two candidates of a move: the best random place, and the place that the item has.
  const bestTurn = new Int32Array(2);
  const bestX = new Float64Array(2);
  const bestY = new Float64Array(2);
  const bestCost = new Float64Array(2);

  /** Whether place j is item i itself or one of its images, which move with it. */
  function isImage(j: number, i: number): boolean {
    return j === i || (wraps && j % count === i);
  }

  /** Gathers as neighbours of item i all places whose boxes reach into the given box. Returns their number. */
  function gather(i: number, minX: number, maxX: number, minY: number, maxY: number): number {
    let found = 0;
    for (let j = 0, k = 0; j < places; j++, k += 4) {
      if (boxes[k]! >= maxX || boxes[k + 1]! <= minX) continue;
      if (boxes[k + 2]! >= maxY || boxes[k + 3]! <= minY || isImage(j, i)) continue;
      near.shape[found] = turn[j]!;
      near.x[found] = x[j]!;
      near.y[found] = y[j]!;
      // An image has the weight of its item.
      near.weight[found] = weight[i * count + (j < count ? j : j % count)]!;
      for (let s = 0; s < 4; s++) near.boxes[4 * found + s] = boxes[k + s]!;
      found++;
    }
    return found;
  }

  /**
   * The cost of turn t at (px, py) against the first `found` neighbours. It may stop adding once it is
   * past `limit`: the result is then some number of at least `limit`.
   */
  function costAt(t: number, px: number, py: number, found: number, limit: number): number {
    const minX = px + left[t]!;
    const maxX = px + right[t]!;
    const minY = py + below[t]!;
    const maxY = py + above[t]!;
    return costAgainst(found, t, px, py, minX, maxX, minY, maxY, limit);
  }

  /** Measures the severities of item i against all others anew, after it has moved. */
  function measure(i: number): void {
    const k = 4 * i;
    const minX = boxes[k]!;
    const maxX = boxes[k + 1]!;
    const minY = boxes[k + 2]!;
    const maxY = boxes[k + 3]!;
    const t = turn[i]!;
    const row = i * count;
    if (overlapping[i]! > 0) {
      for (let j = 0; j < count; j++) if (severity[row + j]! > 0) forget(i, j);
    }
    for (let j = 0, at = 0; j < places; j++, at += 4) {
      if (boxes[at]! >= maxX || boxes[at + 1]! <= minX) continue;
      if (boxes[at + 2]! >= maxY || boxes[at + 3]! <= minY || isImage(j, i)) continue;
      add(i, j % count, severityAt(t, turn[j]!, x[j]! - x[i]!, y[j]! - y[i]!));
    }
  }

  /** Adds to the severity of a pair: in a strip that wraps, an item may meet another and its images. */
  function add(i: number, j: number, value: number): void {
    if (value === 0) return;
    const at = i * count + j;
    if (severity[at] === 0) {
      overlapping[i]!++;
      overlapping[j]!++;
    }
    severity[at]! += value;
    severity[j * count + i] = severity[at]!;
  }

  /** Sets the severity of an overlapping pair to 0. */
  function forget(i: number, j: number): void {
    severity[i * count + j] = 0;
    severity[j * count + i] = 0;
    overlapping[i]!--;
    overlapping[j]!--;
  }

  function overlap(): number {
    let sum = 0;
    for (let i = 0; i < count; i++) {
      if (overlapping[i] === 0) continue;
      for (let k = i * count; k < (i + 1) * count; k++) sum += severity[k]!;
    }
    return sum / 2;
  }

  /**
   * Moves item i to the cheapest place found: the best of some random places in the strip, or the place
   * it has, both improved in steps. It stays where it is if nothing is cheaper.
   */
  function moveItem(i: number): void {
    const first = firstChoice[i]!;
    const own = firstChoice[i + 1]! - first;
    const { length } = layout;
    const all = gather(i, -Infinity, Infinity, -Infinity, Infinity);
    bestTurn[here] = turn[i]!;
    bestX[here] = x[i]!;
    bestY[here] = y[i]!;
    bestCost[here] = costAt(turn[i]!, x[i]!, y[i]!, all, Infinity);
    // A place that costs more than the present one is no candidate: most are given up after a neighbour or two.
    bestCost[sampled] = bestCost[here]!;
    bestTurn[sampled] = none;
    const centreX = (boxes[4 * i]! + boxes[4 * i + 1]!) / 2;
    const centreY = (boxes[4 * i + 2]! + boxes[4 * i + 3]!) / 2;
    for (let k = 0; k < placesTried + placesNear; k++) {
      const t = choices[first + ((random() * own) | 0)]!;
      const leastX = -keptLeft[t]!;
      const mostX = length - (wraps ? keptLeft[t]! : keptRight[t]!);
      if (mostX < leastX) continue;
      let px: number;
      let py: number;
      if (k < placesTried) {
        px = leastX + random() * (mostX - leastX);
        py = leastY[t]! + random() * (mostY[t]! - leastY[t]!);
      } else {
        // The box in turn t then holds the centre of the box where the item is.
        px = centreX - left[t]! + (random() - 1) * (right[t]! - left[t]!);
        py = centreY - below[t]! + (random() - 1) * (above[t]! - below[t]!);
        px = px < leastX ? leastX : px > mostX ? mostX : px;
        py = py < leastY[t]! ? leastY[t]! : py > mostY[t]! ? mostY[t]! : py;
      }
      const cost = costAt(t, px, py, all, bestCost[sampled]!);
      if (cost >= bestCost[sampled]!) continue;
      bestTurn[sampled] = t;
      bestX[sampled] = px;
      bestY[sampled] = py;
      bestCost[sampled] = cost;
    }
    refine(i, here, coarse);
    if (bestTurn[sampled] !== none) refine(i, sampled, coarse);
    const found = bestTurn[sampled] !== none && bestCost[sampled]! < bestCost[here]!;
    const chosen = found ? sampled : here;
    refine(i, chosen, fine);
    put(problem, layout, i, bestTurn[chosen]!, bestX[chosen]!, bestY[chosen]!);
  }

  /**
   * Improves candidate k of item i. Each step goes along an axis or a diagonal, as chance decides, and is
   * tried both ways. Steps that help grow longer, steps that do not are halved, until they are shorter
   * than `steps.least`.
   */
  function refine(i: number, k: number, steps: typeof coarse): void {
    const t = bestTurn[k]!;
    // Where the strip wraps, an item may move past its end, but not so far that a third image were needed.
    const over = wraps ? layout.length / 4 : 0;
    const leastX = -keptLeft[t]! - over;
    const mostX = layout.length - (wraps ? keptLeft[t]! : keptRight[t]!) + over;
    const least = steps.least * side[t]!;
    let px = bestX[k]!;
    let py = bestY[k]!;
    let cost = bestCost[k]!;
    let stepX = steps.first * side[t]!;
    let stepY = stepX;
    // Neighbours are gathered for all places within `reach` of a centre, and again when a step leaves it.
    let reach = 0;
    let centreX = px;
    let centreY = py;
    let found = 0;
    while ((stepX > least || stepY > least) && cost > 0) {
      if (Math.abs(px - centreX) + stepX > reach || Math.abs(py - centreY) + stepY > reach) {
        centreX = px;
        centreY = py;
        reach = 1.5 * Math.max(stepX, stepY);
        found = gather(
          i,
          px + left[t]! - reach,
          px + right[t]! + reach,
          py + below[t]! - reach,
          py + above[t]! + reach,
        );
      }
      // 30 % along the strip, 30 % across it, 20 % on each diagonal.
      const way = random();
      const dx = way < 0.3 || way >= 0.6 ? stepX : 0;
      const dy = way < 0.3 ? 0 : way < 0.8 ? stepY : -stepY;
      let better = false;
      for (let sign = 1; sign >= -1 && !better; sign -= 2) {
        let nx = px + sign * dx;
        let ny = py + sign * dy;
        nx = nx < leastX ? leastX : nx > mostX ? mostX : nx;
        ny = ny < leastY[t]! ? leastY[t]! : ny > mostY[t]! ? mostY[t]! : ny;
        if (nx === px && ny === py) continue;
        const next = costAt(t, nx, ny, found, cost);
        if (next >= cost) continue;
        px = nx;
        py = ny;
        cost = next;
        better = true;
      }
      // Two failed diagonal steps shorten an axis as much as one failed step along it.
      const factor = better ? longer : dx !== 0 && dy !== 0 ? Math.SQRT1_2 : 0.5;
      if (dx !== 0) stepX *= factor;
      if (dy !== 0) stepY *= factor;
    }
    bestX[k] = px;
    bestY[k] = py;
    bestCost[k] = cost;
  }

  /** Raises the weights of all pairs that still overlap, the worst by 2, the slightest by 1.2; lowers the others. */
  function reweigh(): void {
    const worst = worstSeverity();
    if (worst === 0) return;
    for (let n = raisedCount - 1; n >= 0; n--) {
      const k = raised[n]!;
      if (severity[k]! > 0) continue;
      weight[k] = Math.max(1, weight[k]! * 0.9);
      // Back at 1: the last of the list takes its place. Running backwards, that one has been seen already.
      if (weight[k] === 1) raised[n] = raised[--raisedCount]!;
    }
    for (let i = 0; i < count; i++) {
      if (overlapping[i] === 0) continue;
      for (let k = i * count; k < (i + 1) * count; k++) {
        if (severity[k] === 0) continue;
        if (weight[k] === 1) raised[raisedCount++] = k;
        weight[k] = Math.min(heaviest, weight[k]! * (1.2 + 0.8 * (severity[k]! / worst)));
      }
    }
  }

  function worstSeverity(): number {
    let worst = 0;
    for (let i = 0; i < count; i++) {
      if (overlapping[i] === 0) continue;
      for (let k = i * count; k < (i + 1) * count; k++) {
        if (severity[k]! > worst) worst = severity[k]!;
      }
    }
    return worst;
  }

  /** After the layout has been replaced as a whole. */
  function measureAll(): void {
    for (let i = 0; i < movable; i++) measure(i);
  }

  /** Fisher and Yates. */
  function shuffle(): void {
    for (let k = order.length - 1; k > 0; k--) {
      const other = (random() * (k + 1)) | 0;
      const kept = order[k]!;
      order[k] = order[other]!;
      order[other] = kept;
    }
  }

  /** Moves every item that overlaps another, once. Returns false if it was stopped on the way. */
  function round(): boolean {
    shuffle();
    for (const i of order) {
      if (overlapping[i] === 0) continue;
      moveItem(i);
      measure(i);
      if (stopped()) return false;
    }
    return true;
  }

  /** See Separator. */
  function* separate(effort: Effort): Rounds<number | null> {
    try {
      return yield* separated(effort);
    } catch (error) {
      if (error instanceof SearchIsOver) return null;
      throw error;
    }
  }

  /**
   * As `separate`, but throws SearchIsOver where it is stopped in the midst of a move. `incumbent` holds the layout that
   * overlaps least so far, `best` its overlap.
   */
  function* separated(effort: Effort): Rounds<number | null> {
    weight.fill(1);
    raisedCount = 0;
    measureAll();
    let best = overlap();
    const incumbent = copyOf(layout);
    let rounds = 0;
    let strikes = 0;
    while (strikes < effort.strikes && best > 0) {
      const atStart = best;
      for (let idle = 0; idle < effort.rounds; idle++) {
        yield;
        rounds++;
        if (!round()) return null;
        const now = overlap();
        if (now < best) {
          if (now < clearGain * best) idle = -1;
          best = now;
          restore(incumbent, layout);
          if (best === 0) return rounds;
        }
        reweigh();
      }
      strikes = best < clearGain * atStart ? 0 : strikes + 1;
      restore(layout, incumbent);
      measureAll();
    }
    restore(layout, incumbent);
    measureAll();
    return best === 0 ? rounds : null;
  }

  return { layout, separate, overlap };
}
