import { latticeAbove, latticeBelow, latticeIndex, roundingNoise } from './lattice.ts';
import type { Shifts } from './shifts.ts';
import type { SlicedTurn } from './slices.ts';

/** A shape laid down: where its origin lies, on the lattice. */
export interface LaidShape {
  readonly shape: SlicedTurn;
  readonly x: number;
  readonly y: number;
}

/** Where items may lie; endless towards +x from 0. */
interface Field {
  /** y from 0. */
  readonly width: number;
  /** Heights tried across the strip, besides those flush with an edge or another part. */
  readonly gridLines: number;
}

/** All that the place of one more part depends on. */
export interface Ground {
  readonly field: Field;
  readonly placed: readonly LaidShape[];
  /** Those of them that are not items of the search: heights flush with all their corners are tried. */
  readonly fixed: readonly LaidShape[];
  readonly shifts: Shifts;
  readonly reached: BlockedBelow;
}

/**
 * For each shape the x below which it is known to be blocked, by the lattice index of its height.
 * Holds while parts are only added. Sets repeat their parts: the next of a kind begins where the last
 * one ended.
 */
export type BlockedBelow = Map<SlicedTurn, Map<number, number>>;

interface RatedShape extends LaidShape {
  readonly cost: number;
}

/** Items placed last with which heights flush are tried: those before are mostly buried. */
const flushWith = 16;

/** The best height is bettered in steps of half a grid line, a quarter, an eighth. */
const refinements = 3;

/** mm of length given up to lie 1 mm nearer to the edge at y = 0: keeps what is left over in one piece. */
const lean = 0.05;

/**
 * The place for the next item, at one of its turns (all of which fit the field): where its far edge
 * comes nearest to the roll's start, with a lean to one edge.
 */
export function bestSpot(turns: readonly SlicedTurn[], ground: Ground): LaidShape {
  let best: RatedShape | null = null;
  for (const shape of turns) best = bestAtTurn(shape, ground, best);
  if (best === null) throw new RangeError('no turn to lay the part in');
  const { shape, x, y } = best;
  return { shape, x, y };
}

function bestAtTurn(
  shape: SlicedTurn,
  ground: Ground,
  soFar: RatedShape | null,
): RatedShape | null {
  const range = heightRange(shape, ground.field);
  const step = latticeAbove(ground.field.width / ground.field.gridLines);
  const tryHeight = (best: RatedShape | null, y: number): RatedShape | null =>
    y < range.low || y > range.high ? best : better(shape, y, ground, best);
  const first = heightsToTry(shape, range, step, ground).reduce(tryHeight, soFar);
  if (first === soFar || first === null) return soFar;
  let best = first;
  for (let k = 1; k <= refinements; k++) {
    const aside = latticeAbove(step / 2 ** k);
    const { y } = best;
    best = [y - aside, y + aside].map(latticeAbove).reduce(tryHeight, best) ?? best;
  }
  return best;
}

/** Lowest and highest y of the part's origin between the selvedges. */
function heightRange({ box }: SlicedTurn, { width }: Field): { low: number; high: number } {
  const low = latticeAbove(-box.minY);
  // A part exactly as wide as the field has one height, lattice or not.
  return { low, high: Math.max(low, latticeBelow(width - box.maxY)) };
}

/** Flush with the edges, touching other parts, and the lines of a grid that all parts share. */
function heightsToTry(
  { slices }: SlicedTurn,
  { low, high }: { low: number; high: number },
  step: number,
  { placed, fixed }: Ground,
): number[] {
  const heights = [low, high];
  for (let k = Math.ceil(low / step); k * step < high; k++) heights.push(latticeAbove(k * step));
  for (const { y, shape } of fixed) {
    for (const height of shape.slices.heights) {
      heights.push(latticeAbove(y + height - slices.box.minY));
      heights.push(latticeBelow(y + height - slices.box.maxY));
    }
  }
  for (const { y, shape } of placed.slice(-flushWith)) {
    heights.push(latticeAbove(y + shape.slices.box.maxY - slices.box.minY));
    heights.push(latticeBelow(y + shape.slices.box.minY - slices.box.maxY));
  }
  return [...new Set(heights)].filter((y) => y >= low && y <= high).sort((a, b) => a - b);
}

/** The choice at this height if it costs less than the best so far, else that one. */
function better(
  shape: SlicedTurn,
  y: number,
  ground: Ground,
  best: RatedShape | null,
): RatedShape | null {
  const fixedCost = shape.box.maxX + lean * (y + shape.box.minY);
  const limit = best === null ? Infinity : best.cost - fixedCost;
  const x = smallestX(shape, y, limit, ground);
  return x < limit ? { shape, x, y, cost: x + fixedCost } : best;
}

/** The smallest x at this height that is free, or Infinity where it is not below the limit. */
function smallestX(shape: SlicedTurn, y: number, limit: number, ground: Ground): number {
  const known = reachedBy(shape, ground.reached);
  const height = latticeIndex(y);
  const from = known.get(height) ?? latticeAbove(-shape.box.minX);
  const x = freeX(shape, from, y, limit, ground);
  known.set(height, x);
  return x < limit ? x : Infinity;
}

function reachedBy(shape: SlicedTurn, reached: BlockedBelow): Map<number, number> {
  const known = reached.get(shape) ?? new Map<number, number>();
  reached.set(shape, known);
  return known;
}

/** The smallest x from `from` on that is free, or one at or past the limit that is not known to be. */
function freeX(shape: SlicedTurn, from: number, y: number, limit: number, ground: Ground): number {
  const { placed, shifts } = ground;
  let x = from;
  // Round and round the placed parts until all of them in a row have nothing against x.
  let content = 0;
  for (let i = 0; content < placed.length; i = i + 1 === placed.length ? 0 : i + 1) {
    const moved = pastPart(shape, x, y, placed[i]!, shifts);
    content = moved === x ? content + 1 : 1;
    x = moved;
    if (x >= limit) break;
  }
  return x;
}

/** x, or the next x at which the shape does not overlap the placed one. */
function pastPart(
  shape: SlicedTurn,
  x: number,
  y: number,
  other: LaidShape,
  shifts: Shifts,
): number {
  const dx = x - other.x;
  const dy = y - other.y;
  const own = shape.slices.box;
  const its = other.shape.slices.box;
  if (own.minX + dx >= its.maxX || own.maxX + dx <= its.minX) return x;
  if (own.minY + dy >= its.maxY || own.maxY + dy <= its.minY) return x;
  const intervals = shifts(other.shape, shape, dy);
  // Wider than what latticeAbove takes for noise, so that the next x is accepted when asked again.
  const noise = 2 * roundingNoise;
  for (let k = 0; k < intervals.length; k += 2) {
    if (dx <= intervals[k]! + noise) break;
    if (dx < intervals[k + 1]! - noise) return latticeAbove(other.x + intervals[k + 1]!);
  }
  return x;
}
