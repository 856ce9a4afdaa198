import type { Box } from '../../geometry/paths/box.ts';
import type { Shape } from './pair.ts';

/** A shape turned about its own origin by one of the angles allowed. Its box is that of the whole shape. */
export interface Turn extends Box {
  /** The box that must lie in the strip: smaller than its own where the shape may reach past the strip's sides. */
  readonly kept: Box;
  /** A length that stands for the shape's size. */
  readonly size: number;
}

/** What never changes while items move about. */
export interface Problem {
  /** Of the strip, from y = 0. */
  readonly width: number;
  readonly turns: readonly Turn[];
  /** For each movable item the turns it may take, as indexes into `turns`. */
  readonly turnsOf: readonly (readonly number[])[];
  /** Items that never move. Their numbers follow those of the movable ones. */
  readonly fixed: readonly FixedItem[];
  /** So much of the strip is taken whatever is laid: no layout needs to be shorter. */
  readonly taken: number;
  /** One for each turn. */
  readonly shapes: readonly Shape[];
  /** Overlaps less deep than this are none. */
  readonly slack: number;
  /** Whether the strip's end is its start again, as in a pattern that repeats. Items may then lie across the end. */
  readonly wraps: boolean;
}

export interface FixedItem {
  readonly turn: number;
  readonly x: number;
  readonly y: number;
}

/** Where an item lies: in which turn, and its origin. */
export interface PlacedTurn {
  readonly turn: number;
  readonly x: number;
  readonly y: number;
}

/**
 * Where the items lie in a strip of some length. In a strip that wraps, the arrays hold all items three
 * times, one block after another: as they lie, one length further on, and one length back. So an item
 * near the end meets the images of those near the start.
 */
export interface Layout {
  length: number;
  readonly turn: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Four numbers for each item: minX, maxX, minY, maxY where it lies. */
  readonly boxes: Float64Array;
}

/** A layout with the fixed items in their places. The movable ones are still to be put somewhere. */
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

/** A layout of its own with the same places. */
export function copyOf({ length, turn, x, y, boxes }: Layout): Layout {
  return { length, turn: turn.slice(), x: x.slice(), y: y.slice(), boxes: boxes.slice() };
}

/** Copies all places of one layout into another of the same problem. */
export function restore(to: Layout, from: Layout): void {
  to.length = from.length;
  to.turn.set(from.turn);
  to.x.set(from.x);
  to.y.set(from.y);
  to.boxes.set(from.boxes);
}

/** How far the images of an item lie from it, in lengths of the strip. */
const images = [0, 1, -1];

/**
 * Puts item i at (px, py) in turn t. In a strip that wraps px is first taken modulo the strip's length,
 * and the item's images are put as well.
 */
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

/** Whether the strip is long enough for a turn. */
export function fits({ turns }: Problem, { length }: Layout, turn: number): boolean {
  return turns[turn]!.kept.maxX - turns[turn]!.kept.minX <= length;
}

/** The x nearest to the given one at which a turn lies in the strip. */
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

/** The y nearest to the given one at which a turn lies in the strip. */
export function keptY({ turns, width }: Problem, turn: number, y: number): number {
  const { minY, maxY } = turns[turn]!.kept;
  return Math.min(Math.max(y, -minY), width - maxY);
}
