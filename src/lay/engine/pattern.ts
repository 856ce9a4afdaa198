import type { Instance, Prepared } from './instance.ts';
import { prepared } from './instance.ts';
import type { Layout } from './layout.ts';
import { latticeAbove } from './lattice.ts';
import type { PlacedTurn } from './first-layout.ts';
import { slicedTurns } from './first-layout.ts';
import { forbiddenShifts } from './slices.ts';

/** A block of items that is laid again and again along the strip. */
export interface RepeatedBlock {
  readonly placed: readonly PlacedTurn[];
  /** From one block to the next. */
  readonly pitch: number;
}

/** From how many items and shares on it is worth while to look for a pattern: fewer are laid as densely all at once. */
const fewest = 40;
const fewestShares = 5;
/** Shares of the demands tried as a block. */
const blockShares = [1, 2, 3];

/** How often the demands hold one and the same share: 10 and 4 of two kinds hold 5 and 2 twice. */
function commonShares({ kinds }: Instance): number {
  const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));
  return kinds.reduce((common, { demand }) => divisor(demand, common), 0);
}

/** How many shares blocks may have, smallest first; none where nothing repeats or something lies fixed. */
export function blocksToTry({ instance, problem }: Prepared): number[] {
  const common = commonShares(instance);
  if (problem.turnsOf.length < fewest || common < fewestShares) return [];
  if (problem.fixed.length > 0) return [];
  return blockShares.filter((shares) => 2 * shares <= common);
}

/** Makes a block of some shares: `before`, where there is one, is a shorter block that goes into it whole. */
export type LayBlock = (block: Prepared, nth: number, before: SmallerBlock | null) => RepeatedBlock;

interface SmallerBlock extends RepeatedBlock {
  /** How often it goes into the new block. */
  readonly times: number;
}

/**
 * The items of an instance in whole blocks, by their number: of blocks that `layBlock` lays the one of
 * which most go on the strip. What is left over when the blocks are full lies nowhere yet.
 */
export function repeatedPattern(
  whole: Prepared,
  layBlock: LayBlock,
): ReadonlyMap<number, PlacedTurn> {
  const { instance } = whole;
  const common = commonShares(instance);
  let best: (RepeatedBlock & { readonly shares: number }) | null = null;
  for (const [nth, shares] of blocksToTry(whole).entries()) {
    const kinds = instance.kinds.map((kind) => ({
      ...kind,
      demand: (kind.demand / common) * shares,
    }));
    const fits: boolean = best !== null && shares % best.shares === 0;
    const before = fits ? { ...best!, times: shares / best!.shares } : null;
    const block = layBlock(prepared({ ...instance, kinds }), nth, before);
    if (best === null || block.pitch / shares < best.pitch / best.shares)
      best = { ...block, shares };
  }
  if (best === null) return new Map();
  return copies(whole, best, Math.floor(common / best.shares));
}

/** A block laid so many times one after another: the items of the whole by their number. */
export function copies(
  whole: Prepared,
  { placed, pitch }: RepeatedBlock,
  times: number,
): Map<number, PlacedTurn> {
  // By the first of their turns, which tells kinds apart: the items that lie nowhere yet.
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

/** Where the items lie that may be moved. */
export function placedIn({ problem }: Prepared, { turn, x, y }: Layout): PlacedTurn[] {
  return problem.turnsOf.map((_, i) => ({ turn: turn[i]!, x: x[i]!, y: y[i]! }));
}

/** A block whose end is its start, begun where its items then reach least far. */
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
 * How far a copy of a layout must be moved along the strip not to touch the layout itself: never
 * through it, so that any number of copies go after each other.
 */
export function pitchOf(ready: Prepared, placed: readonly PlacedTurn[]): number {
  const sliced = slicedTurns(ready);
  let pitch = 0;
  for (const one of placed) {
    for (const other of placed) {
      const [fixed, moving] = [sliced[one.turn]!.slices, sliced[other.turn]!.slices];
      const last = forbiddenShifts(fixed, moving, other.y - one.y).at(-1);
      if (last !== undefined) pitch = Math.max(pitch, last - (other.x - one.x));
    }
  }
  return latticeAbove(pitch);
}
