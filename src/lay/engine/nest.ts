/**
 * One search for a short layout, from the first layout to the end of its budget. It has three parts:
 *
 * 1. A first layout, items one after another, largest first (first-layout.ts), or the one that the
 *    instance gives to start with.
 * 2. If the same items are wanted many times over: a small block of them is laid densely and repeated
 *    along the strip (pattern.ts). Otherwise: items strewn at random and separated (scatter.ts), which
 *    mixes large and small ones better than largest first does.
 * 3. The layout is shortened, first by exploring, in the last fifth by compressing (explore.ts).
 */
import { seededRandom } from './random.ts';
import { explorer, shortestStrip } from './explore.ts';
import type { Explorer } from './explore.ts';
import { firstLayout } from './first-layout.ts';
import type { ItemPlacement, Prepared } from './instance.ts';
import type { Layout, PlacedTurn } from './layout.ts';
import { copyOf, newLayout, put, restore } from './layout.ts';
import type { RepeatedBlock, LayBlock } from './pattern.ts';
import { blocksToTry, copies, cutOpen, pitchOf, placedIn, repeatedPattern } from './pattern.ts';
import { scatter } from './scatter.ts';
import type { Rounds } from './separate.ts';
import { separator, whileGoing } from './separate.ts';
import { soundStart } from './start.ts';

/** A finished layout, as whoever asked for it gets it. */
export interface Nest {
  readonly length: number;
  /** One for each item, in the order of the kinds. */
  readonly placements: readonly ItemPlacement[];
}

/** How long a search may take, and who is told of what. */
export interface Budget {
  /** How much of the budget is used, from 0; from 1 on it is used up. Asked before every round, which counts as one. */
  readonly used: () => number;
  /** Whether the budget is used up; asking does not count as a round. It is asked after every move and before each table. */
  readonly over?: () => boolean;
  /** Whether somebody has ended the search: then not even the first layout is made with care. */
  readonly stopped?: () => boolean;
  /** Called with every shorter layout. */
  readonly found?: (nest: Nest) => void;
  /** Called whenever the search turns to another layout to try things in, with a function to look at that one. */
  readonly watch?: (look: Look) => void;
}

/** What is being tried at the moment: items may overlap. While a block is laid, only its items are there. */
export type Look = () => Nest;

/** From this share of the budget on, the layout is only compressed. */
const exploreShare = 0.8;
/** How much of the compression is over once this share of the budget is used, from 0 to 1. */
const compressedShare = (used: number): number =>
  Math.min(1, Math.max(0, (used - exploreShare) / (1 - exploreShare)));
/** Up to this share blocks are laid, if items repeat. */
const patternShare = 0.9;
/** Up to this share of a block's time it is laid like any other instance; after that its end is its start. */
const singlyShare = 0.8;

/** Up to this share strewn items may be separated. More items than `mostStrewn` are never strewn: it would take too long. */
const strewnShare = 0.1;
const mostStrewn = 200;

/** A search under way: it pauses and goes on as it is told. */
export interface Search {
  /** The shortest layout so far. */
  readonly best: Layout;
  /** Takes over a layout of another search, if it is shorter than its own. */
  readonly adopt: (layout: Layout) => void;
  /** Searches on until this share of the budget is used. */
  readonly until: (share: number) => void;
}

/**
 * Begins a search: makes the first layout, and lays blocks if items repeat and blocks are wanted, or if
 * the items are too many to be strewn. Shortening begins with the first call of `until`. `seed` decides
 * all that is left to chance.
 */
export function beginSearch(
  instance: Prepared,
  seed: number,
  { used, over, stopped, found, watch }: Budget,
  blocksWanted = true,
): Search {
  const { problem } = instance;
  const random = seededRandom(seed);
  const toBlocks = { ...(over && { over }), ...(stopped && { stopped }), ...(watch && { watch }) };
  const best = firstLayout(instance, startOf(instance), stopped);
  const tell = (): void => found?.(nestOf(instance, best));
  tell();
  const given = instance.instance.start !== undefined;
  const few = problem.turnsOf.length <= mostStrewn;
  const repeats = (blocksWanted || !few) && !given && blocksToTry(instance).length > 0;
  const begins = repeats ? used() : 0;
  if (repeats && begins < patternShare) {
    const known = patternWithin(instance, seed, begins, { used, ...toBlocks });
    const repeated = firstLayout(instance, known, stopped);
    if (repeated.length < best.length) {
      Object.assign(best, repeated);
      tell();
    }
  }
  const improve = (): Explorer => {
    const moving = separator(problem, random, over);
    watch?.(() => nestOf(instance, moving.layout));
    const wanted = few && !given && !repeats && best.length > shortestStrip(problem);
    const strewn =
      wanted && scatter(instance, moving, best.length, () => used() < strewnShare, random);
    // The strewn layout may be longer than the best one at first: then it is shortened, but not yet the best.
    const from = strewn ? copyOf(moving.layout) : copyOf(best);
    return explorer(problem, moving, from, random, () => {
      if (from.length >= best.length) return;
      restore(best, from);
      tell();
    });
  };
  let improving: Explorer | null = null;
  // Both are gone on with where they were left, unless a shorter layout has been taken over: then they begin anew.
  let exploring: Rounds<void> | null = null;
  let compressing: Rounds<void> | null = null;
  const adopt = (layout: Layout): void => {
    if (layout.length < best.length) restore(best, layout);
    if (improving === null || layout.length >= improving.best.length) return;
    restore(improving.best, layout);
    exploring = null;
    compressing = null;
  };
  const until = (share: number): void => {
    if (over?.() === true) return;
    improving ??= improve();
    exploring ??= improving.explore();
    whileGoing(exploring, () => used() < Math.min(share, exploreShare));
    compressing ??= improving.compress(() => compressedShare(used()));
    whileGoing(compressing, () => used() < share);
  };
  return { best, adopt, until };
}

/** The budget of one block. Nobody is told of a block that is shorter. */
type BlockBudget = Omit<Budget, 'found'>;

/**
 * Lays the blocks one after another, from the share `from` of the budget on. The smallest, with which the others
 * begin, has half of the time, or all of it if there are no others; those share the rest.
 */
function patternWithin(
  instance: Prepared,
  seed: number,
  from: number,
  { used: usedOfAll, ...others }: BlockBudget,
): ReadonlyMap<number, PlacedTurn> {
  const tried = blocksToTry(instance).length;
  const lay: LayBlock = (block, nth, before) => {
    const first = tried === 1 ? 1 : 0.5;
    const begins = nth === 0 ? 0 : first + ((1 - first) * (nth - 1)) / (tried - 1);
    const lasts = nth === 0 ? first : (1 - first) / (tried - 1);
    const part = patternShare - from;
    const used = (): number => ((usedOfAll() - from) / part - begins) / lasts;
    return layBlock(block, seed, { used, ...others }, before);
  };
  return repeatedPattern(instance, lay, others.over);
}

/** Lays a block: a single one from scratch, a longer one from copies of a shorter one. Then its end becomes its start. */
function layBlock(
  block: Prepared,
  seed: number,
  budget: BlockBudget,
  before: Parameters<LayBlock>[2],
): RepeatedBlock {
  if (before === null) {
    const search = beginSearch(block, seed, budget);
    search.until(singlyShare);
    const placed = placedIn(block, search.best);
    return wrapped(block, pitchOf(block, placed), new Map(placed.entries()), seed, budget);
  }
  const { pitch, times } = before;
  return wrapped(block, times * pitch, copies(block, before, times), seed, budget);
}

/** Shortens a block in a strip that wraps: repeated, its items may reach into the block before and the one after. */
function wrapped(
  block: Prepared,
  pitch: number,
  known: ReadonlyMap<number, PlacedTurn>,
  seed: number,
  { used, over, watch }: BlockBudget,
): RepeatedBlock {
  const problem = { ...block.problem, wraps: true };
  const layout = newLayout(problem);
  layout.length = pitch;
  for (const [i, { turn, x, y }] of known) put(problem, layout, i, turn, x, y);
  const random = seededRandom(seed);
  const moving = separator(problem, random, over);
  watch?.(() => nestOf(block, moving.layout));
  const { explore, compress, best } = explorer(problem, moving, layout, random, () => {});
  whileGoing(explore(), () => used() < exploreShare);
  const compressing = compress(() => compressedShare(used()));
  whileGoing(compressing, () => used() < 1);
  return cutOpen(block, { placed: placedIn(block, best), pitch: best.length });
}

/** The items that the instance's start has in place already, by their number. */
function startOf({ instance, kindOf, rotations, problem }: Prepared): Map<number, PlacedTurn> {
  const known = new Map<number, PlacedTurn>();
  for (const { kind, rotation, x, y } of soundStart(instance)) {
    const item = kindOf.findIndex((own, i) => own === kind && !known.has(i));
    const turn = problem.turnsOf[item]?.find((own) => rotations[own] === rotation);
    if (turn !== undefined) known.set(item, { turn, x, y });
  }
  return known;
}

/** A layout as a Nest. */
export function nestOf({ kindOf, rotations, problem }: Prepared, layout: Layout): Nest {
  const placements = kindOf.map((kind, i) => ({
    kind,
    rotation: rotations[layout.turn[i]!]!,
    x: layout.x[i]!,
    y: layout.y[i]!,
  }));
  return { length: Math.max(layout.length, problem.taken), placements };
}
