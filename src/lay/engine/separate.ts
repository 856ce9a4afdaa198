import type { Layout, Problem } from './layout.ts';
import { copyOf, newLayout, put, restore } from './layout.ts';
import { pairTables, roomFor } from './pair-tables.ts';

export interface Effort {
  /** Rounds without gain before a strike. */
  readonly rounds: number;
  /** One after another without gain before it is given up. */
  readonly strikes: number;
  /** Told of each round; false ends the search. */
  readonly goOn: () => boolean;
}

/** A layout and the means to free it of overlaps. */
export interface Separator {
  readonly layout: Layout;
  /**
   * Moves items until none overlap. True where that is done; else the layout is the least overlapping
   * one that was met.
   */
  readonly separate: (effort: Effort) => boolean;
  /** How much the layout that was last separated overlaps in all. */
  readonly overlap: () => number;
}

/** How many random places a move tries; the best of them is refined, and the place that the item has. */
const placesTried = 16;
/** Where each of the two stands among the places of a move. */
const sampled = 0;
const here = 1;

/** Weights stay numbers, however long a pair overlaps. */
const heaviest = 1e100;

/** Steps of a refinement, in shares of an item's smaller side; the place chosen is refined again. */
const coarse = { first: 0.3, least: 0.02 };
const fine = { first: 0.01, least: 0.001 };
const longer = 1.1;

/**
 * A guided local search: items that overlap are moved, in random order, each to the cheapest place
 * found; then pairs that still overlap weigh more, and the rest less again. All that the search looks
 * at lies in flat arrays of this one function, which is what makes it fast.
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
  // With the images of items in a strip that wraps.
  const places = turn.length;
  // Items that a place has to be held against.
  const near = roomFor(places);
  const { severityAt, costAgainst } = pairTables(problem.shapes, slack, near);

  const choices = Int32Array.from(problem.turnsOf.flat());
  const firstChoice = new Int32Array(movable + 1);
  for (const [i, { length }] of problem.turnsOf.entries()) {
    firstChoice[i + 1] = firstChoice[i]! + length;
  }
  const ofTurns = (value: (t: (typeof problem.turns)[number]) => number): Float64Array =>
    Float64Array.from(problem.turns, value);
  const left = ofTurns(({ minX }) => minX);
  const right = ofTurns(({ maxX }) => maxX);
  const below = ofTurns(({ minY }) => minY);
  const above = ofTurns(({ maxY }) => maxY);
  const keptLeft = ofTurns(({ kept }) => kept.minX);
  const keptRight = ofTurns(({ kept }) => kept.maxX);
  const leastY = ofTurns(({ kept }) => -kept.minY);
  const mostY = ofTurns(({ kept }) => width - kept.maxY);
  const side = ofTurns(({ kept }) => Math.min(kept.maxX - kept.minX, kept.maxY - kept.minY));

  // Of each pair of items, both ways round.
  const severity = new Float64Array(count * count);
  const weight = new Float64Array(count * count).fill(1);

  // Of each item with how many it overlaps.
  const overlapping = new Int32Array(count);
  // Where in `weight` it is more than 1.
  const raised = new Int32Array(count * count);
  let raisedCount = 0;
  const order = Int32Array.from({ length: movable }, (_, i) => i);

  // The two places of a move.
  const bestTurn = new Int32Array(2);
  const bestX = new Float64Array(2);
  const bestY = new Float64Array(2);
  const bestCost = new Float64Array(2);

  /** An item moves with its images: it is not held against them. */
  function isImage(j: number, i: number): boolean {
    return j === i || (wraps && j % count === i);
  }

  /** All items but one whose boxes reach into a box become the neighbours; their number. */
  function gather(i: number, minX: number, maxX: number, minY: number, maxY: number): number {
    let found = 0;
    for (let j = 0, k = 0; j < places; j++, k += 4) {
      if (boxes[k]! >= maxX || boxes[k + 1]! <= minX) continue;
      if (boxes[k + 2]! >= maxY || boxes[k + 3]! <= minY || isImage(j, i)) continue;
      near.shape[found] = turn[j]!;
      near.x[found] = x[j]!;
      near.y[found] = y[j]!;
      near.weight[found] = weight[i * count + (j < count ? j : j % count)]!;
      for (let s = 0; s < 4; s++) near.boxes[4 * found + s] = boxes[k + s]!;
      found++;
    }
    return found;
  }

  /** Weighted overlap of a turn at a place with `found` neighbours; no less than `limit` where it would be more. */
  function costAt(t: number, px: number, py: number, found: number, limit: number): number {
    const minX = px + left[t]!;
    const maxX = px + right[t]!;
    const minY = py + below[t]!;
    const maxY = py + above[t]!;
    return costAgainst(found, t, px, py, minX, maxX, minY, maxY, limit);
  }

  /** Measures the overlaps of one item anew. */
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
   * Moves an item to the cheapest place found: the best of random places in the strip and the place it
   * has, bettered step by step. Stays where nothing is cheaper.
   */
  function moveItem(i: number): void {
    const first = firstChoice[i]!;
    const own = firstChoice[i + 1]! - first;
    const { length } = layout;
    const all = gather(i, -Infinity, Infinity, -Infinity, Infinity);
    bestTurn[here] = turn[i]!;
    bestX[here] = x[i]!;
    bestY[here] = y[i]!;
    bestCost[sampled] = Infinity;
    bestCost[here] = costAt(turn[i]!, x[i]!, y[i]!, all, Infinity);
    for (let k = 0; k < placesTried; k++) {
      const t = choices[first + ((random() * own) | 0)]!;
      const leastX = -keptLeft[t]!;
      const mostX = length - (wraps ? keptLeft[t]! : keptRight[t]!);
      if (mostX < leastX) continue;
      const px = leastX + random() * (mostX - leastX);
      const py = leastY[t]! + random() * (mostY[t]! - leastY[t]!);
      const cost = costAt(t, px, py, all, bestCost[sampled]!);
      if (cost >= bestCost[sampled]!) continue;
      bestTurn[sampled] = t;
      bestX[sampled] = px;
      bestY[sampled] = py;
      bestCost[sampled] = cost;
    }
    refine(i, here, coarse);
    if (bestCost[sampled]! < Infinity) refine(i, sampled, coarse);
    const chosen = bestCost[sampled]! < bestCost[here]! ? sampled : here;
    refine(i, chosen, fine);
    put(problem, layout, i, bestTurn[chosen]!, bestX[chosen]!, bestY[chosen]!);
  }

  /**
   * Steps to and fro along an axis or aside, as chance has it, longer where that helps and shorter where
   * it does not.
   */
  function refine(i: number, k: number, steps: typeof coarse): void {
    const t = bestTurn[k]!;
    // Where the strip wraps an item may move over its end, not so far that images would be missing.
    const over = wraps ? layout.length / 4 : 0;
    const leastX = -keptLeft[t]! - over;
    const mostX = layout.length - (wraps ? keptLeft[t]! : keptRight[t]!) + over;
    const least = steps.least * side[t]!;
    let px = bestX[k]!;
    let py = bestY[k]!;
    let cost = bestCost[k]!;
    let stepX = steps.first * side[t]!;
    let stepY = stepX;
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
      // A step aside counts half for each axis.
      const factor = better ? longer : dx !== 0 && dy !== 0 ? Math.SQRT1_2 : 0.5;
      if (dx !== 0) stepX *= factor;
      if (dy !== 0) stepY *= factor;
    }
    bestX[k] = px;
    bestY[k] = py;
    bestCost[k] = cost;
  }

  /** Raises the weight of what still overlaps, the worst most; lets the rest sink back. */
  function reweigh(): void {
    const worst = worstSeverity();
    if (worst === 0) return;
    for (let n = raisedCount - 1; n >= 0; n--) {
      const k = raised[n]!;
      if (severity[k]! > 0) continue;
      weight[k] = Math.max(1, weight[k]! * 0.95);
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

  function measureAll(): void {
    for (let i = 0; i < movable; i++) measure(i);
  }

  function shuffle(): void {
    for (let k = order.length - 1; k > 0; k--) {
      const other = (random() * (k + 1)) | 0;
      const kept = order[k]!;
      order[k] = order[other]!;
      order[other] = kept;
    }
  }

  /** Every item that overlaps another is moved; false where that had to be broken off. */
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

  function separate(effort: Effort): boolean {
    weight.fill(1);
    raisedCount = 0;
    measureAll();
    let best = overlap();
    const incumbent = copyOf(layout);
    let strikes = 0;
    while (strikes < effort.strikes && best > 0) {
      const atStart = best;
      for (let idle = 0; idle < effort.rounds; idle++) {
        if (!effort.goOn() || !round()) {
          restore(layout, incumbent);
          return best === 0;
        }
        const now = overlap();
        if (now < best) {
          if (now < 0.98 * best) idle = -1;
          best = now;
          restore(incumbent, layout);
          if (best === 0) return true;
        }
        reweigh();
      }
      strikes = best < 0.98 * atStart ? 0 : strikes + 1;
      restore(layout, incumbent);
      measureAll();
    }
    restore(layout, incumbent);
    measureAll();
    return best === 0;
  }

  return { layout, separate, overlap };
}
