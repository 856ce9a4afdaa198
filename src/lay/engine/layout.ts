import type { Box } from '../../geometry/paths/box.ts';
import type { Shape } from './pair.ts';

/** One turn of one shape about its own origin. */
export interface Turn extends Box {
  /** What of it must lie in the strip: its box, less what may hang over the strip's sides. */
  readonly kept: Box;
  /** A length that stands for the shape's size. */
  readonly size: number;
}

/** What never changes while items move about. */
export interface Problem {
  /** Of the strip, from y = 0. */
  readonly width: number;
  readonly turns: readonly Turn[];
  /** For each item that may be moved the turns it may take. */
  readonly turnsOf: readonly (readonly number[])[];
  /** Items that lie where they lie, numbered on after those that may be moved. */
  readonly fixed: readonly FixedItem[];
  /** Of each turn. */
  readonly shapes: readonly Shape[];
  /** Overlaps less deep than this are none. */
  readonly slack: number;
  /** The strip's end is its start again: a pattern that repeats. Items may lie over the end. */
  readonly wraps: boolean;
}

export interface FixedItem {
  readonly turn: number;
  readonly x: number;
  readonly y: number;
}

/**
 * Where the items lie; `length` is that of the strip they are kept inside. In a strip that wraps all
 * items are there three times, one after the other in the arrays: as they lie, a length further on, and
 * a length back.
 */
export interface Layout {
  length: number;
  readonly turn: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Of each item minX, maxX, minY, maxY where it lies: what the search looks at most. */
  readonly boxes: Float64Array;
}

/** The fixed items where they lie, the others nowhere yet. */
export function newLayout(problem: Problem): Layout {
  const movable = problem.turnsOf.length;
  const count = (movable + problem.fixed.length) * (problem.wraps ? images.length : 1);
  const layout = {
    length: 0,
    turn: new Int32Array(count),
    x: new Float64Array(count),
    y: new Float64Array(count),
    boxes: new Float64Array(4 * count),
  };
  for (const [k, { turn, x, y }] of problem.fixed.entries()) {
    put(problem, layout, movable + k, turn, x, y);
  }
  return layout;
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

/** In lengths of a strip that wraps. */
const images = [0, 1, -1];

/** Puts an item somewhere; in a strip that wraps the same place within the strip, with its images. */
export function put(
  problem: Problem,
  layout: Layout,
  i: number,
  t: number,
  px: number,
  py: number,
): void {
  if (!problem.wraps) {
    putOne(problem, layout, i, t, px, py);
    return;
  }
  const count = layout.x.length / images.length;
  const { length } = layout;
  const inside = px - Math.floor((px + problem.turns[t]!.kept.minX) / length) * length;
  for (const [k, shift] of images.entries()) {
    putOne(problem, layout, k * count + i, t, inside + shift * length, py);
  }
}

function putOne(
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

/** Whether an item lies in the strip at a turn. */
export function fits({ turns }: Problem, { length }: Layout, turn: number): boolean {
  return turns[turn]!.kept.maxX - turns[turn]!.kept.minX <= length;
}

export function keptX(
  { turns, wraps }: Problem,
  { length }: Layout,
  turn: number,
  x: number,
): number {
  if (wraps) return x;
  const { minX, maxX } = turns[turn]!.kept;
  return Math.min(Math.max(x, -minX), length - maxX);
}

export function keptY({ turns, width }: Problem, turn: number, y: number): number {
  const { minY, maxY } = turns[turn]!.kept;
  return Math.min(Math.max(y, -minY), width - maxY);
}
