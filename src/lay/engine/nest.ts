import { seededRandom } from './random.ts';
import { explorer } from './explore.ts';
import type { Explorer } from './explore.ts';
import type { PlacedTurn } from './first-layout.ts';
import { firstLayout } from './first-layout.ts';
import type { ItemPlacement, Prepared } from './instance.ts';
import type { Layout } from './layout.ts';
import { copyOf, newLayout, put, restore } from './layout.ts';
import type { RepeatedBlock, LayBlock } from './pattern.ts';
import { blocksToTry, copies, cutOpen, pitchOf, placedIn, repeatedPattern } from './pattern.ts';
import { scatter } from './scatter.ts';
import { separator } from './separate.ts';

export interface Nest {
  readonly length: number;
  /** In the order of the kinds. */
  readonly placements: readonly ItemPlacement[];
}

export interface Budget {
  /** How much of the budget is used, 0 to 1 and beyond; asked after every round of moves. */
  readonly used: () => number;
  /** Whether nothing of it is left, without counting a round. */
  readonly over?: () => boolean;
  /** Told of every shorter layout. */
  readonly found?: (nest: Nest) => void;
  /** Given a look at what is being tried, whenever that is something else: a whole layout, or a block. */
  readonly watch?: (look: Look) => void;
}

/** What is being tried just now: items may overlap, and of a block that is to be repeated only its own are there. */
export type Look = () => Nest;

/** The share of the budget after which a layout is only compressed. */
const exploreShare = 0.8;
/** The share in which blocks to be repeated are looked for, where there is something to repeat. */
const patternShare = 0.8;

/** The share of a block's time in which it is laid as if it were alone. */
const singlyShare = 0.8;

/** The share in which items that were strewn about must come apart, and how many at most are strewn. */
const strewnShare = 0.1;
const mostStrewn = 200;

/** A search that is under way; it goes on whenever it is asked. */
export interface Search {
  /** The shortest layout so far. */
  readonly best: Layout;
  /** Goes on from a layout that is shorter than its own. */
  readonly adopt: (layout: Layout) => void;
  /** Goes on until so much of the budget is used. */
  readonly until: (share: number) => void;
}

/**
 * Begins to lay the items of an instance: from where its start says, else largest first from the start
 * of the strip, and then in blocks that repeat, where those may be and are shorter: if they are wanted,
 * or the items are too many for what comes next. Else it goes on from items strewn about, which mixes
 * large and small better than largest first does.
 */
export function beginSearch(
  instance: Prepared,
  seed: number,
  { used, over, found, watch }: Budget,
  blocksWanted = true,
): Search {
  const { problem } = instance;
  const random = seededRandom(seed);
  const best = firstLayout(instance, startOf(instance));
  const tell = (): void => found?.(nestOf(instance, best));
  tell();
  const given = instance.instance.start !== undefined;
  const few = problem.turnsOf.length <= mostStrewn;
  const repeats = (blocksWanted || !few) && !given && blocksToTry(instance).length > 0;
  if (repeats) {
    const known = patternWithin(instance, seed, used, watch);
    const repeated = firstLayout(instance, known);
    if (repeated.length < best.length) {
      Object.assign(best, repeated);
      tell();
    }
  }
  const improve = (): Explorer => {
    const moving = separator(problem, random, over);
    watch?.(() => nestOf(instance, moving.layout));
    const wanted = few && !given && !repeats;
    const strewn = wanted && scatter(instance, moving, () => used() < strewnShare, random);
    // What was strewn may be longer at first: then it is not yet the best.
    const from = strewn ? copyOf(moving.layout) : copyOf(best);
    return explorer(problem, moving, from, random, () => {
      if (from.length >= best.length) return;
      restore(best, from);
      tell();
    });
  };
  let improving: Explorer | null = null;
  const adopt = (layout: Layout): void => {
    if (layout.length < best.length) restore(best, layout);
    if (improving !== null && layout.length < improving.best.length) {
      restore(improving.best, layout);
    }
  };
  const until = (share: number): void => {
    improving ??= improve();
    improving.explore(() => used() < Math.min(share, exploreShare));
    const compressed = (): number => (used() - exploreShare) / (1 - exploreShare);
    improving.compress(
      () => used() < share,
      () => Math.min(1, Math.max(0, compressed())),
    );
  };
  return { best, adopt, until };
}

/** Blocks tried one after another, each with its share of the time: the smallest, which the others begin with, has half. */
function patternWithin(
  instance: Prepared,
  seed: number,
  used: () => number,
  watch: Budget['watch'],
): ReadonlyMap<number, PlacedTurn> {
  const from = used();
  const tried = blocksToTry(instance).length;
  return repeatedPattern(instance, (block, nth, before) => {
    const begins = nth === 0 ? 0 : 0.5 + (0.5 * (nth - 1)) / (tried - 1);
    const lasts = nth === 0 ? 0.5 : 0.5 / (tried - 1);
    const part = patternShare - from;
    // Where the time is up already every block is left as it is first laid.
    const share = (): number => (part > 0 ? ((used() - from) / part - begins) / lasts : Infinity);
    return layBlock(block, seed, share, before, watch);
  });
}

/** Laid alone or begun with shorter blocks, then as a strip whose end is its start. */
function layBlock(
  block: Prepared,
  seed: number,
  used: () => number,
  before: Parameters<LayBlock>[2],
  watch: Budget['watch'],
): RepeatedBlock {
  if (before === null) {
    const watched = watch === undefined ? {} : { watch };
    const search = beginSearch(block, seed, { used, ...watched });
    search.until(singlyShare);
    const placed = placedIn(block, search.best);
    return wrapped(block, pitchOf(block, placed), new Map(placed.entries()), seed, used, watch);
  }
  const { pitch, times } = before;
  return wrapped(block, times * pitch, copies(block, before, times), seed, used, watch);
}

/** Shortens a block whose end is its start. */
function wrapped(
  block: Prepared,
  pitch: number,
  known: ReadonlyMap<number, PlacedTurn>,
  seed: number,
  used: () => number,
  watch: Budget['watch'],
): RepeatedBlock {
  const problem = { ...block.problem, wraps: true };
  const layout = newLayout(problem);
  layout.length = pitch;
  for (const [i, { turn, x, y }] of known) put(problem, layout, i, turn, x, y);
  const random = seededRandom(seed);
  const moving = separator(problem, random);
  watch?.(() => nestOf(block, moving.layout));
  const { explore, compress, best } = explorer(problem, moving, layout, random, () => {});
  explore(() => used() < exploreShare);
  compress(
    () => used() < 1,
    () => (used() - exploreShare) / (1 - exploreShare),
  );
  return cutOpen(block, { placed: placedIn(block, best), pitch: best.length });
}

/** Where the items lie that the instance's start names. */
function startOf({ instance, kindOf, rotations, problem }: Prepared): Map<number, PlacedTurn> {
  const known = new Map<number, PlacedTurn>();
  for (const { kind, rotation, x, y } of instance.start ?? []) {
    const item = kindOf.findIndex((own, i) => own === kind && !known.has(i));
    const turn = problem.turnsOf[item]?.find((own) => rotations[own] === rotation);
    if (turn !== undefined) known.set(item, { turn, x, y });
  }
  return known;
}

/**
 * Lays the items of an instance until the budget is used. No two items overlap by more than the
 * slack. The same seed and a budget in rounds give the same layout on any machine.
 */
export function nest(instance: Prepared, seed: number, budget: Budget): Nest {
  const search = beginSearch(instance, seed, budget);
  search.until(1);
  return nestOf(instance, search.best);
}

export function nestOf({ kindOf, rotations }: Prepared, layout: Layout): Nest {
  const placements = kindOf.map((kind, i) => ({
    kind,
    rotation: rotations[layout.turn[i]!]!,
    x: layout.x[i]!,
    y: layout.y[i]!,
  }));
  return { length: layout.length, placements };
}
