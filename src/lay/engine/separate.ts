import type { Box } from '../../geometry/box.ts';
import type { PairTable, Shape } from './pair-table.ts';
import { pairTable, severityAt, slope } from './pair-table.ts';

/** One turn of one shape: its box about its own origin, and what its overlaps weigh. */
export interface Turn extends Box {
  /** A length that stands for the shape's size. */
  readonly size: number;
}

/** What never changes while items move about. */
export interface Problem {
  /** Of the strip, from y = 0. */
  readonly width: number;
  readonly turns: readonly Turn[];
  /** For each item the turns it may take. */
  readonly turnsOf: readonly (readonly number[])[];
  /** Of each turn. */
  readonly shapes: readonly Shape[];
  /** Overlaps less deep than this are none. */
  readonly slack: number;
  /** Table of two turns, at first * turns.length + second, where first <= second; made when first asked. */
  readonly tables: (PairTable | undefined)[];
}

/** Where the items lie; `length` is that of the strip they are kept inside. */
export interface Layout {
  length: number;
  readonly turn: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Of each item minX, maxX, minY, maxY where it lies: what the search looks at most. */
  readonly boxes: Float64Array;
}

export function newLayout(count: number): Layout {
  return {
    length: 0,
    turn: new Int32Array(count),
    x: new Float64Array(count),
    y: new Float64Array(count),
    boxes: new Float64Array(4 * count),
  };
}

export function copyOf({ length, turn, x, y, boxes }: Layout): Layout {
  return { length, turn: turn.slice(), x: x.slice(), y: y.slice(), boxes: boxes.slice() };
}

export function restore(to: Layout, from: Layout): void {
  to.length = from.length;
  to.turn.set(from.turn);
  to.x.set(from.x);
  to.y.set(from.y);
  to.boxes.set(from.boxes);
}

/** Puts an item somewhere. */
export function put(
  { turns }: Problem,
  { turn, x, y, boxes }: Layout,
  i: number,
  t: number,
  px: number,
  py: number,
): void {
  const { minX, maxX, minY, maxY } = turns[t]!;
  turn[i] = t;
  x[i] = px;
  y[i] = py;
  boxes[4 * i] = px + minX;
  boxes[4 * i + 1] = px + maxX;
  boxes[4 * i + 2] = py + minY;
  boxes[4 * i + 3] = py + maxY;
}

/** The overlaps of a layout, and how heavily each pair of items weighs in the search. */
export interface Overlaps {
  readonly count: number;
  /** Severity of each pair, both ways round. */
  readonly severity: Float64Array;
  readonly weight: Float32Array;
  /** Scratch for a move. */
  readonly near: Neighbours;
}

export function newOverlaps(count: number): Overlaps {
  return {
    count,
    severity: new Float64Array(count * count),
    weight: new Float32Array(count * count).fill(1),
    near: { items: new Int32Array(count), count: 0 },
  };
}

function severityBetween(problem: Problem, a: number, b: number, dx: number, dy: number): number {
  const { tables, turns } = problem;
  return a <= b
    ? severityAt(tables[a * turns.length + b] ?? newTable(problem, a, b), dx, dy)
    : severityAt(tables[b * turns.length + a] ?? newTable(problem, b, a), -dx, -dy);
}

function newTable({ tables, turns, shapes, slack }: Problem, a: number, b: number): PairTable {
  const table = pairTable(shapes[a]!, shapes[b]!, slack);
  tables[a * turns.length + b] = table;
  return table;
}

function measureAll(problem: Problem, layout: Layout, overlaps: Overlaps): void {
  for (let i = 0; i < overlaps.count; i++) measure(problem, layout, overlaps, i);
}

/** Measures the overlaps of one item anew. */
function measure(
  problem: Problem,
  { turn, x, y, boxes }: Layout,
  { count, severity }: Overlaps,
  i: number,
): void {
  const a = turn[i]!;
  const minX = boxes[4 * i]!;
  const maxX = boxes[4 * i + 1]!;
  const minY = boxes[4 * i + 2]!;
  const maxY = boxes[4 * i + 3]!;
  for (let j = 0, k = 0; j < count; j++, k += 4) {
    let value = 0;
    if (
      boxes[k]! < maxX &&
      boxes[k + 1]! > minX &&
      boxes[k + 2]! < maxY &&
      boxes[k + 3]! > minY &&
      j !== i
    ) {
      const b = turn[j]!;
      value = severityBetween(problem, a, b, x[j]! - x[i]!, y[j]! - y[i]!);
    }
    severity[i * count + j] = value;
    severity[j * count + i] = value;
  }
}

export function total({ severity }: Overlaps): number {
  let sum = 0;
  for (let k = 0; k < severity.length; k++) sum += severity[k]!;
  return sum / 2;
}

/** Items that a place has to be held against. */
interface Neighbours {
  readonly items: Int32Array;
  count: number;
}

/** All items but one whose boxes reach into a box. */
function gather(
  { boxes }: Layout,
  { count }: Overlaps,
  i: number,
  minX: number,
  maxX: number,
  minY: number,
  maxY: number,
  into: Neighbours,
): void {
  let found = 0;
  for (let j = 0, k = 0; j < count; j++, k += 4) {
    if (boxes[k]! >= maxX || boxes[k + 1]! <= minX) continue;
    if (boxes[k + 2]! >= maxY || boxes[k + 3]! <= minY || j === i) continue;
    into.items[found++] = j;
  }
  into.count = found;
}

/** Weighted overlap of an item as a turn at a place; more than `limit` where it would be more. */
function costAt(
  problem: Problem,
  layout: Layout,
  { count, weight }: Overlaps,
  near: Neighbours,
  i: number,
  a: number,
  px: number,
  py: number,
  limit: number,
): number {
  const { minX: left, maxX: right, minY: below, maxY: above } = problem.turns[a]!;
  const { turn, x, y, boxes } = layout;
  const minX = px + left;
  const maxX = px + right;
  const minY = py + below;
  const maxY = py + above;
  const row = i * count;
  const { items } = near;
  let cost = 0;
  let slopeX = 0;
  let slopeY = 0;
  for (let n = 0; n < near.count; n++) {
    const j = items[n]!;
    const k = 4 * j;
    if (boxes[k]! >= maxX || boxes[k + 1]! <= minX) continue;
    if (boxes[k + 2]! >= maxY || boxes[k + 3]! <= minY) continue;
    const b = turn[j]!;
    const severity = severityBetween(problem, a, b, x[j]! - px, y[j]! - py);
    if (severity > 0) {
      const heavy = weight[row + j]!;
      cost += heavy * severity;
      if (cost >= limit) return cost;
      // The offset is that of the second turn from the first: it falls where the first moves on.
      const sign = a <= b ? -heavy : heavy;
      slopeX += sign * slope[0]!;
      slopeY += sign * slope[1]!;
    }
  }
  costSlope[0] = slopeX;
  costSlope[1] = slopeY;
  return cost;
}

/** How the cost last asked for in full grows with x and y. */
const costSlope = new Float64Array(2);

/** How hard a move looks about. */
const sampling = { strip: 24, near: 8, refined: 3 };

interface Candidate {
  turn: number;
  x: number;
  y: number;
  cost: number;
}

/**
 * Moves an item to the cheapest place found: random places in the strip and near where it lies, the
 * best of them bettered step by step. Stays where nothing is cheaper.
 */
function moveItem(
  problem: Problem,
  layout: Layout,
  overlaps: Overlaps,
  i: number,
  random: () => number,
): void {
  const choices = problem.turnsOf[i]!;
  const here = layout.turn[i]!;
  const at: Candidate = { turn: here, x: layout.x[i]!, y: layout.y[i]!, cost: Infinity };
  const { near } = overlaps;
  gather(layout, overlaps, i, -Infinity, Infinity, -Infinity, Infinity, near);
  at.cost = costAt(problem, layout, overlaps, near, i, here, at.x, at.y, Infinity);
  const best: Candidate[] = [];
  const tryAt = (turn: number, x: number, y: number): void => {
    if (!fits(problem, layout, turn)) return;
    const limit = best.length < sampling.refined ? Infinity : best.at(-1)!.cost;
    const cost = costAt(problem, layout, overlaps, near, i, turn, x, y, limit);
    if (cost >= limit) return;
    if (best.length === sampling.refined) best.pop();
    const where = best.findIndex((one) => cost < one.cost);
    best.splice(where === -1 ? best.length : where, 0, { turn, x, y, cost });
  };
  for (let k = 0; k < sampling.strip; k++) {
    const turn = choices[(random() * choices.length) | 0]!;
    const { minX, maxX, minY, maxY } = problem.turns[turn]!;
    tryAt(
      turn,
      -minX + random() * (layout.length - (maxX - minX)),
      -minY + random() * (problem.width - (maxY - minY)),
    );
  }
  const own = problem.turns[here]!;
  const reachX = (own.maxX - own.minX) / 2;
  const reachY = (own.maxY - own.minY) / 2;
  for (let k = 0; k < sampling.near; k++) {
    const turn = choices[(random() * choices.length) | 0]!;
    tryAt(
      turn,
      keptX(problem, layout, turn, at.x + (2 * random() - 1) * reachX),
      keptY(problem, turn, at.y + (2 * random() - 1) * reachY),
    );
  }
  best.push({ ...at });
  let chosen = at;
  for (const one of best) {
    refine(problem, layout, overlaps, i, one, random);
    if (one.cost < chosen.cost) chosen = one;
  }
  put(problem, layout, i, chosen.turn, chosen.x, chosen.y);
}

/** Whether an item lies in the strip at a turn. */
export function fits({ turns }: Problem, { length }: Layout, turn: number): boolean {
  return turns[turn]!.maxX - turns[turn]!.minX <= length;
}

export function keptX({ turns }: Problem, { length }: Layout, turn: number, x: number): number {
  const { minX, maxX } = turns[turn]!;
  return Math.min(Math.max(x, -minX), length - maxX);
}

export function keptY({ turns, width }: Problem, turn: number, y: number): number {
  const { minY, maxY } = turns[turn]!;
  return Math.min(Math.max(y, -minY), width - maxY);
}

/** Steps downhill, longer where they help and shorter where they do not; aside where downhill does not. */
function refine(
  problem: Problem,
  layout: Layout,
  overlaps: Overlaps,
  i: number,
  at: Candidate,
  random: () => number,
): void {
  const { minX, maxX, minY, maxY } = problem.turns[at.turn]!;
  const size = Math.min(maxX - minX, maxY - minY);
  const { near } = overlaps;
  const reach = size;
  const gatherAround = (x: number, y: number): void =>
    gather(
      layout,
      overlaps,
      i,
      x + minX - reach,
      x + maxX + reach,
      y + minY - reach,
      y + maxY + reach,
      near,
    );
  gatherAround(at.x, at.y);
  let centreX = at.x;
  let centreY = at.y;
  at.cost = costAt(problem, layout, overlaps, near, i, at.turn, at.x, at.y, Infinity);
  let gx = costSlope[0]!;
  let gy = costSlope[1]!;
  let step = steps.first * size;
  let downhill = true;
  while (step > steps.least * size && at.cost > 0) {
    const length = Math.sqrt(gx * gx + gy * gy);
    let dx = -gx / length;
    let dy = -gy / length;
    if (!downhill || !(length > 0)) {
      const angle = 2 * Math.PI * random();
      dx = Math.cos(angle);
      dy = Math.sin(angle);
    }
    const x = keptX(problem, layout, at.turn, at.x + dx * step);
    const y = keptY(problem, at.turn, at.y + dy * step);
    if (!(Math.abs(x - centreX) <= reach && Math.abs(y - centreY) <= reach)) {
      gatherAround(x, y);
      centreX = x;
      centreY = y;
    }
    const cost = costAt(problem, layout, overlaps, near, i, at.turn, x, y, at.cost);
    if (cost < at.cost) {
      at.x = x;
      at.y = y;
      at.cost = cost;
      gx = costSlope[0]!;
      gy = costSlope[1]!;
      step *= steps.longer;
      downhill = true;
    } else if (downhill) downhill = false;
    else {
      step *= steps.shorter;
      downhill = true;
    }
  }
}

/** Shares of an item's smaller side, and factors. */
const steps = { first: 0.2, least: 0.002, longer: 1.2, shorter: 0.4 };

/** Raises the weight of what still overlaps, the worst most; lets the rest sink back. */
function reweigh({ severity, weight }: Overlaps): void {
  let worst = 0;
  for (let k = 0; k < severity.length; k++) worst = Math.max(worst, severity[k]!);
  if (worst === 0) return;
  for (let k = 0; k < weight.length; k++) {
    const value = severity[k]!;
    weight[k] =
      value > 0 ? weight[k]! * (1.2 + 0.8 * (value / worst)) : Math.max(1, weight[k]! * 0.95);
  }
}

export interface Effort {
  /** Rounds without gain before a strike. */
  readonly rounds: number;
  readonly strikes: number;
  /** Told of each round; false ends the search. */
  readonly goOn: () => boolean;
}

/**
 * Moves items until none overlap. True where that is done; else the layout is the least overlapping
 * one that was met.
 */
export function separate(
  problem: Problem,
  layout: Layout,
  overlaps: Overlaps,
  effort: Effort,
  random: () => number,
): boolean {
  const { count, severity, weight } = overlaps;
  const order = Int32Array.from({ length: count }, (_, i) => i);
  weight.fill(1);
  measureAll(problem, layout, overlaps);
  let best = total(overlaps);
  const incumbent = copyOf(layout);
  for (let strike = 0; strike < effort.strikes && best > 0; strike++) {
    const atStart = best;
    for (let idle = 0; idle < effort.rounds; idle++) {
      if (!effort.goOn()) {
        restore(layout, incumbent);
        return best === 0;
      }
      shuffle(order, random);
      for (const i of order) {
        if (!overlapsAny(severity, count, i)) continue;
        moveItem(problem, layout, overlaps, i, random);
        measure(problem, layout, overlaps, i);
      }
      const now = total(overlaps);
      if (now < best) {
        if (now < 0.98 * best) idle = -1;
        best = now;
        restore(incumbent, layout);
        if (best === 0) return true;
      }
      reweigh(overlaps);
    }
    if (best > 0.98 * atStart && strike > 0) break;
    restore(layout, incumbent);
    measureAll(problem, layout, overlaps);
  }
  restore(layout, incumbent);
  measureAll(problem, layout, overlaps);
  return best === 0;
}

function overlapsAny(severity: Float64Array, count: number, i: number): boolean {
  for (let k = i * count; k < (i + 1) * count; k++) if (severity[k]! > 0) return true;
  return false;
}

function shuffle(order: Int32Array, random: () => number): void {
  for (let k = order.length - 1; k > 0; k--) {
    const other = (random() * (k + 1)) | 0;
    const kept = order[k]!;
    order[k] = order[other]!;
    order[other] = kept;
  }
}
