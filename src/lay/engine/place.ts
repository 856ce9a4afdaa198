/**
 * Where the next item goes when items are laid one after another.
 *
 * The idea: for a given height (y) the smallest free x can be found exactly, since for each item that
 * lies already the forbidden shifts are known as intervals (slices.ts). So only heights are searched:
 * those of a grid, those at which the item would lie flush with an edge or with another item, and then
 * finer steps around the best.
 */
import { latticeAbove, latticeBelow, latticeIndex, roundingNoise } from './lattice.ts';
import type { Shifts } from './shifts.ts';
import type { SlicedTurn } from './slices.ts';

/** A shape laid down: where its origin lies, on the lattice. */
export interface LaidShape {
  readonly shape: SlicedTurn;
  readonly x: number;
  readonly y: number;
}

/** Where items may lie: x from 0 on without end, y from 0 to `width`. */
interface Field {
  readonly width: number;
  /** So many lines of a grid are tried as heights. */
  readonly gridLines: number;
}

/** All that the place of the next item depends on. */
export interface Ground {
  readonly field: Field;
  readonly placed: readonly LaidShape[];
  /** Four numbers for each of the placed: minX, maxX, minY, maxY where it lies. */
  readonly boxes: Float64Array;
  /** Those of the placed that are no items but obstacles: heights flush with each of their corners are tried. */
  readonly fixed: readonly LaidShape[];
  readonly shifts: Shifts;
  readonly reached: BlockedBelow;
}

/**
 * For each shape and height (as a lattice index) the x below which no place is free. It stays true while
 * items are only added, so the next item of a kind need not look again where the last one did.
 */
export type BlockedBelow = Map<SlicedTurn, Map<number, number>>;

interface RatedShape extends LaidShape {
  readonly cost: number;
}

/** Heights flush with the last so many items are tried: those before are mostly enclosed by others. */
const flushWith = 16;

/** Around the best height, steps of a half, a quarter and an eighth of a grid line are tried. */
const refinements = 3;

/** So much length is given up to lie 1 nearer to the edge at y = 0: this keeps what is left over in one piece. */
const lean = 0.05;

/**
 * The place and turn at which the next item reaches least far along the strip, with a slight preference
 * for the edge at y = 0. All turns given must fit the field. Throws RangeError where there is none.
 */
export function bestSpot(turns: readonly SlicedTurn[], ground: Ground): LaidShape {
  let best: RatedShape | null = null;
  for (const shape of turns) best = bestAtTurn(shape, ground, best);
  if (best === null) throw new RangeError('no turn to lay the item in');
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

/** Lowest and highest y that the item's origin may have. */
function heightRange({ box }: SlicedTurn, { width }: Field): { low: number; high: number } {
  const low = latticeAbove(-box.minY);
  // An item exactly as wide as the field has a single height, even if that is not on the lattice.
  return { low, high: Math.max(low, latticeBelow(width - box.maxY)) };
}

/** The heights to try, rising: at the edges, on a grid, and flush above or below parts that lie already. */
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

/** The smallest free x at this height, if it costs less than the best so far; else the best so far. */
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

/** The smallest free x at this height; Infinity if it is not below the limit. Remembers how far it has looked. */
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

/** The smallest free x from `from` on. At or past the limit it stops: that x may not be free. */
function freeX(shape: SlicedTurn, from: number, y: number, limit: number, ground: Ground): number {
  const near = thatMayMeet(shape, from, y, ground);
  let x = from;
  // Each part in the way pushes x on. It is free once all parts in a row have left it where it was.
  let content = 0;
  for (let i = 0; content < near.length; i = i + 1 === near.length ? 0 : i + 1) {
    const moved = pastPart(shape, x, y, near[i]!, ground.shifts);
    content = moved === x ? content + 1 : 1;
    x = moved;
    if (x >= limit) break;
  }
  return x;
}

/** The placed shapes whose boxes the shape's box meets at this height, at `from` or further on. */
function thatMayMeet(
  { slices: { box } }: SlicedTurn,
  from: number,
  y: number,
  { placed, boxes }: Ground,
): LaidShape[] {
  const minX = box.minX + from;
  const minY = box.minY + y;
  const maxY = box.maxY + y;
  const near: LaidShape[] = [];
  for (let i = 0, k = 0; i < placed.length; i++, k += 4) {
    if (boxes[k + 1]! > minX && boxes[k + 3]! > minY && boxes[k + 2]! < maxY) near.push(placed[i]!);
  }
  return near;
}

/** x itself if the shape there does not overlap the placed one, else the next x at which it does not. */
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
  const first = shifts.at(other.shape, shape, dy);
  const { list } = shifts;
  // More than latticeAbove takes for noise: the x that is returned must pass when it is asked about again.
  const noise = 2 * roundingNoise;
  for (let k = first; dx > list[k]! + noise; k += 2) {
    if (dx < list[k + 1]! - noise) return latticeAbove(other.x + list[k + 1]!);
  }
  return x;
}
