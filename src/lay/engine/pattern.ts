import type { Instance, Prepared } from './instance.ts';
import { prepared } from './instance.ts';
import type { Layout } from './layout.ts';
import { latticeAbove } from './lattice.ts';
import type { Placed } from './first-layout.ts';
import { slicedTurns } from './first-layout.ts';
import { forbiddenShifts } from './slices.ts';

/** A block of items that is laid again and again along the strip. */
interface Block {
  readonly layout: Layout;
  /** How many of the shares that the demands have in common lie in it. */
  readonly shares: number;
  /** From one block to the next. */
  readonly pitch: number;
}

/** From how many items on it is worth while to look for a pattern. */
const fewest = 60;
/** Shares of the demands tried as a block. */
const blockShares = [1, 2, 3];

/** How often the demands hold one and the same share: 10 and 4 of two kinds hold 5 and 2 twice. */
function commonShares({ kinds }: Instance): number {
  const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));
  return kinds.reduce((common, { demand }) => divisor(demand, common), 0);
}

/** How many blocks of which size may be tried, smallest first; none where nothing repeats or something lies fixed. */
export function blocksToTry({ instance, problem }: Prepared): number[] {
  const common = commonShares(instance);
  if (problem.turnsOf.length < fewest || problem.fixed.length > 0) return [];
  return blockShares.filter((shares) => 2 * shares <= common);
}

/**
 * The items of an instance in whole blocks, by their number: of blocks that `layBlock` lays the one of
 * which most go on the strip. What is left over when the blocks are full lies nowhere yet.
 */
export function repeatedPattern(
  whole: Prepared,
  layBlock: (block: Prepared, nth: number) => Layout,
): ReadonlyMap<number, Placed> {
  const { instance } = whole;
  const common = commonShares(instance);
  const blocks = blocksToTry(whole).map((shares, nth): Block => {
    const kinds = instance.kinds.map((kind) => ({
      ...kind,
      demand: (kind.demand / common) * shares,
    }));
    const ready = prepared({ ...instance, kinds });
    const layout = layBlock(ready, nth);
    return { layout, shares, pitch: pitchOf(ready, layout) };
  });
  const known = new Map<number, Placed>();
  if (blocks.length === 0) return known;
  const best = blocks.reduce((one, other) =>
    other.pitch / other.shares < one.pitch / one.shares ? other : one,
  );
  const { layout, shares, pitch } = best;
  const copies = Math.floor(common / shares);
  // Items are numbered by kind, in the block as in the whole: those of a block follow each other there too.
  const ofTurns = new Map<readonly number[], number[]>();
  for (const [i, turns] of whole.problem.turnsOf.entries()) {
    ofTurns.set(turns, [...(ofTurns.get(turns) ?? []), i]);
  }
  const waiting = new Map([...ofTurns].map(([turns, items]) => [turns[0]!, items]));
  const firstTurn = whole.problem.turns.map(() => 0);
  for (const turns of ofTurns.keys()) for (const turn of turns) firstTurn[turn] = turns[0]!;
  for (let copy = 0; copy < copies; copy++) {
    for (const [k, turn] of layout.turn.entries()) {
      const item = waiting.get(firstTurn[turn]!)!.shift()!;
      known.set(item, { turn, x: layout.x[k]! + copy * pitch, y: layout.y[k]! });
    }
  }
  return known;
}

/**
 * How far a copy of a layout must be moved along the strip not to touch the layout itself: never
 * through it, so that any number of copies go after each other. Whole distances between lines, where
 * there are lines.
 */
export function pitchOf(ready: Prepared, { turn, x, y }: Layout): number {
  const sliced = slicedTurns(ready);
  let pitch = 0;
  for (const [i, t] of turn.entries()) {
    for (const [j, u] of turn.entries()) {
      const intervals = forbiddenShifts(sliced[t]!.slices, sliced[u]!.slices, y[j]! - y[i]!);
      const last = intervals.at(-1);
      if (last !== undefined) pitch = Math.max(pitch, last - (x[j]! - x[i]!));
    }
  }
  const { every } = ready.problem.lines;
  return every === Infinity ? latticeAbove(pitch) : Math.ceil(pitch / every - 1e-9) * every;
}
