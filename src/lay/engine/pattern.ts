/**
 * Blocks that repeat. Thirty times the same items are often wanted. It is far easier to lay
 * them once, twice or three times well and to repeat that block along the strip than to lay all at once.
 * The block is laid in a strip whose end is its start, so that copies fit into each other.
 */
import type { Instance, Prepared } from './instance.ts';
import type { Layout, PlacedTurn } from './layout.ts';
import { latticeAbove } from './lattice.ts';
import { slicedTurns } from './first-layout.ts';
import { areaWithout } from './polygon.ts';
import { forbiddenShifts } from './slices.ts';

/** A block of items that is laid again and again along the strip. */
export interface RepeatedBlock {
  readonly placed: readonly PlacedTurn[];
  /** From one block to the next. */
  readonly pitch: number;
}

/**
 * A share is the smallest set of items whose multiples make up all demands. Blocks are only tried from so
 * many items and so many shares on: fewer are laid as densely all at once.
 */
const fewest = 40;
const fewestShares = 5;
/** Blocks of so many shares are tried, if they have no more than so many items: for larger ones there is not the time. */
const blockShares = [1, 2, 3];
const mostInBlock = 30;

/** How many shares the demands are: 10 of one kind and 4 of another are two shares of 5 and 2. */
function commonShares({ kinds }: Instance): number {
  const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));
  return kinds.reduce((common, { demand }) => divisor(demand, common), 0);
}

/** How many shares the blocks to try have, smallest first. None if too little repeats, or if something lies fixed. */
export function blocksToTry({ instance, problem }: Prepared): number[] {
  const common = commonShares(instance);
  if (problem.turnsOf.length < fewest || common < fewestShares) return [];
  if (problem.fixed.length > 0) return [];
  const share = problem.turnsOf.length / common;
  const isSmall = (shares: number): boolean => shares === 1 || shares * share <= mostInBlock;
  return blockShares.filter((shares) => 2 * shares <= common && isSmall(shares));
}

/** Lays a block, the nth that is tried. `before` is a shorter block to begin with, if one goes into it without rest. */
export type LayBlock = (block: Prepared, nth: number, before: SmallerBlock | null) => RepeatedBlock;

interface SmallerBlock extends RepeatedBlock {
  /** So often it goes into the new block. */
  readonly times: number;
}

/**
 * The items of an instance laid in blocks, by their number. Of all blocks tried, the one is repeated that
 * is shortest for its shares. Items beyond the last whole block are not placed. `over` is asked before each block:
 * once it says yes, no more of them are laid.
 */
export function repeatedPattern(
  whole: Prepared,
  layBlock: LayBlock,
  over: () => boolean = () => false,
): ReadonlyMap<number, PlacedTurn> {
  const { instance } = whole;
  const common = commonShares(instance);
  let best: (RepeatedBlock & { readonly shares: number }) | null = null;
  for (const [nth, shares] of blocksToTry(whole).entries()) {
    if (over()) break;
    const fits: boolean = best !== null && shares % best.shares === 0;
    const before = fits ? { ...best!, times: shares / best!.shares } : null;
    const block = layBlock(sharesOf(whole, shares, common), nth, before);
    if (best === null || block.pitch / shares < best.pitch / best.shares)
      best = { ...block, shares };
  }
  if (best === null) return new Map();
  return copies(whole, best, Math.floor(common / best.shares));
}

/** So many shares of the items, of `common` in all. Shapes, and what is known of them, are those of the whole. */
function sharesOf(whole: Prepared, shares: number, common: number): Prepared {
  const { instance, problem, kindOf: all } = whole;
  const kinds = instance.kinds.map((kind) => ({
    ...kind,
    demand: (kind.demand / common) * shares,
  }));
  const taken = kinds.map(() => 0);
  const items = [...all.keys()].filter((i) => taken[all[i]!]!++ < kinds[all[i]!]!.demand);
  const kindOf = items.map((i) => all[i]!);
  const area = kindOf.reduce(
    (sum, kind) => sum + areaWithout(kinds[kind]!.outline, kinds[kind]!.holes ?? []),
    0,
  );
  const turnsOf = items.map((i) => problem.turnsOf[i]!);
  return {
    ...whole,
    instance: { ...instance, kinds },
    problem: { ...problem, turnsOf },
    kindOf,
    area,
  };
}

/** A block repeated `times` times: where the items of the whole then lie, by their number. */
export function copies(
  whole: Prepared,
  { placed, pitch }: RepeatedBlock,
  times: number,
): Map<number, PlacedTurn> {
  // Items that are not placed yet, by the first of their turns: every kind has turns of its own.
  const waiting = new Map<number, number[]>();
  const firstTurn = new Map<number, number>();
  for (const [i, turns] of whole.problem.turnsOf.entries()) {
    const first = turns[0]!;
    if (!waiting.has(first)) waiting.set(first, []);
    waiting.get(first)!.push(i);
    for (const turn of turns) firstTurn.set(turn, first);
  }
  const known = new Map<number, PlacedTurn>();
  for (let copy = 0; copy < times; copy++) {
    for (const { turn, x, y } of placed) {
      const item = waiting.get(firstTurn.get(turn)!)!.shift()!;
      known.set(item, { turn, x: x + copy * pitch, y });
    }
  }
  return known;
}

/** Where the movable items lie. */
export function placedIn({ problem }: Prepared, { turn, x, y }: Layout): PlacedTurn[] {
  return problem.turnsOf.map((_, i) => ({ turn: turn[i]!, x: x[i]!, y: y[i]! }));
}

/** A block from a strip that wraps, cut open at the start of that item from which the whole reaches least far. */
export function cutOpen({ problem }: Prepared, { placed, pitch }: RepeatedBlock): RepeatedBlock {
  const from = ({ turn, x }: PlacedTurn): number => x + problem.turns[turn]!.kept.minX;
  const openedAt = (start: number): PlacedTurn[] =>
    placed.map((one) => ({
      ...one,
      x: one.x - start - Math.floor((from(one) - start) / pitch) * pitch,
    }));
  const endOf = (items: readonly PlacedTurn[]): number =>
    items.reduce((most, { turn, x }) => Math.max(most, x + problem.turns[turn]!.kept.maxX), 0);
  const opened = placed.map((one) => openedAt(from(one)));
  const shortest = opened.reduce((best, one) => (endOf(one) < endOf(best) ? one : best));
  return { placed: shortest, pitch };
}

/**
 * How far a copy of a layout must be moved along the strip until it lies clear of the layout. It is clear
 * of it from there on, so that any number of copies can follow each other.
 */
export function pitchOf(ready: Prepared, placed: readonly PlacedTurn[]): number {
  const turnOf = slicedTurns(ready);
  let pitch = 0;
  for (const one of placed) {
    for (const other of placed) {
      const [fixed, moving] = [turnOf(one.turn).slices, turnOf(other.turn).slices];
      const last = forbiddenShifts(fixed, moving, other.y - one.y).at(-1);
      if (last !== undefined) pitch = Math.max(pitch, last - (other.x - one.x));
    }
  }
  return latticeAbove(pitch);
}
