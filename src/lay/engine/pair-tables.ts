import type { Crossing, HalfPlanes, Pair, Shape } from './pair.ts';
import { cells, crossingsIn, grown, pairOf, severityOf } from './pair.ts';

/**
 * How badly two shapes overlap, looked up instead of worked out.
 *
 * The idea: whether two shapes overlap depends on nothing but the offset of the second's origin from the
 * first's. So each pair of shapes gets a table: a grid of cells over all offsets at which their boxes
 * meet. A cell is free (no offset in it overlaps), hit (every offset in it does) or border. What kind it
 * is, is found out when it is first asked for, since most cells never are.
 *
 * Whether two shapes overlap must be exact, or the lay would not be valid. So a border cell keeps a list
 * of the half planes that pass through it (see pair.ts) and tests the offset against those. How badly they
 * overlap may be rough: severities are worked out at the corners of larger squares when they are first asked for, and
 * interpolated between.
 */
export interface PairTables {
  /** The severity of the overlap of shapes a and b, where b's origin is (dx, dy) from a's; 0 if they do not overlap. */
  readonly severityAt: (a: number, b: number, dx: number, dy: number) => number;
  /**
   * The sum of weight times severity of a shape at (x, y) against the first `found` neighbours. It may
   * stop adding once it is past `limit`: the result is then some number of at least `limit`.
   * (minX, maxX, minY, maxY) is the shape's box at that place.
   */
  readonly costAgainst: (
    found: number,
    shape: number,
    x: number,
    y: number,
    minX: number,
    maxX: number,
    minY: number,
    maxY: number,
    limit: number,
  ) => number;
}

/** What a place is held against: shapes that lie somewhere, copied into short arrays that are read in one sweep. */
export interface Neighbours {
  readonly shape: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Four numbers each: minX, maxX, minY, maxY where it lies. */
  readonly boxes: Float64Array;
  readonly weight: Float64Array;
}

/** Empty neighbours with room for so many. */
export function roomFor(count: number): Neighbours {
  return {
    shape: new Int32Array(count),
    x: new Float64Array(count),
    y: new Float64Array(count),
    boxes: new Float64Array(4 * count),
    weight: new Float64Array(count),
  };
}

/** Severities are rough anyway: they are worked out at the corners of squares of so many cells by so many. */
const square = 2;
/** Along one side of a grid. */
const corners = cells / square + 1;
const cellsOfTable = cells * cells;
const cornersOfTable = corners * corners;

/** What a cell may be. */
const unknown = 0;
const free = 1;
const hit = 2;
const border = 3;

/** At most so many tables are kept, some 50 MB. When one more is needed all are forgotten, and filled anew as they are asked for. */
const mostTables = 6000;
/** The same for the convex pieces behind them, some 300 bytes each. */
const mostPieces = 100_000;

/** Thrown in the midst of a look-up where the search is over: a look-up may need many tables, which take long. */
export class SearchIsOver extends Error {}

/**
 * Tables for all pairs of `shapes`. Overlaps less deep than `slack` count as none. `costAgainst` reads
 * the shapes that lie in `neighbours`. `over` is asked before a table is made; if it says yes, SearchIsOver is thrown
 * instead.
 */
export function pairTables(
  shapes: readonly Shape[],
  slack: number,
  neighbours: Neighbours = roomFor(0),
  over: () => boolean = () => false,
): PairTables {
  const count = shapes.length;
  const capacity = Math.min((count * (count + 1)) / 2, mostTables);
  // The table of the pair a, b has the number slots[a * count + b]; -1: it has none yet.
  const slots = new Int32Array(count * count).fill(-1);
  // The pair b, a needs no table of its own, nor do both shapes turned by half: they share that of a, b and
  // look up the opposite offset (way -1).
  const ways = new Int8Array(count * count).fill(1);
  // Of each table, where its grid begins, and cells per unit of length.
  const minX = new Float64Array(capacity);
  const minY = new Float64Array(capacity);
  const perX = new Float64Array(capacity);
  const perY = new Float64Array(capacity);
  const status = new Uint8Array(capacity * cellsOfTable);
  // Where in `lists` the list of a border cell begins.
  const first = new Int32Array(capacity * cellsOfTable);
  // Severities at the corners of squares; NaN: not yet known.
  const severities = new Float32Array(capacity * cornersOfTable);
  const known: HalfPlanes = { values: new Float64Array(4096), used: 0 };
  // The values of `known`, which are read in the innermost loop.
  let planes = known.values;
  // The list of a border cell: for each convex piece that reaches into the cell the number of its half
  // planes that pass through the cell, then where each begins in `planes`; 0 ends the list.
  let lists = new Int32Array(4096);
  let listsUsed = 0;
  const pairs: Pair[] = [];
  let pieces = 0;
  const { shape: shapeOf, x: xOf, y: yOf, boxes, weight } = neighbours;

  // Short enough for the compiler to inline it into the loops that call it: keep it so.
  function severityAt(a: number, b: number, ax: number, ay: number): number {
    const pair = a * count + b;
    let slot = slots[pair]!;
    if (slot < 0) slot = newTable(a, b);
    const dx = ways[pair]! * ax;
    const dy = ways[pair]! * ay;
    const gx = (dx - minX[slot]!) * perX[slot]!;
    const gy = (dy - minY[slot]!) * perY[slot]!;
    // Outside the grid the boxes do not meet. Written so that NaN counts as outside, too.
    if (!(gx > 0 && gy > 0 && gx < cells && gy < cells)) return 0;
    const cx = gx | 0;
    const cy = gy | 0;
    const cell = slot * cellsOfTable + cy * cells + cx;
    let found = status[cell]!;
    if (found === unknown) found = classify(slot, cx, cy);
    if (found === free) return 0;
    if (found === border && !overlaps(first[cell]!, dx, dy)) return 0;
    const sx = (cx / square) | 0;
    const sy = (cy / square) | 0;
    const fx = gx / square - sx;
    const fy = gy / square - sy;
    const severity = between(slot * cornersOfTable + sy * corners + sx, fx, fy);
    // NaN: not all severities at the corners are known yet.
    return severity === severity ? severity : betweenNew(slot, sx, sy, fx, fy);
  }

  /** As `between`, at the corner (sx, sy), after working out the severities that are not known yet. */
  function betweenNew(slot: number, sx: number, sy: number, fx: number, fy: number): number {
    const at = slot * cornersOfTable;
    for (let y = sy; y <= sy + 1; y++) {
      for (let x = sx; x <= sx + 1; x++) {
        const corner = at + y * corners + x;
        if (!Number.isNaN(severities[corner])) continue;
        severities[corner] = severityOf(pairs[slot]!, square * x, square * y);
      }
    }
    return between(at + sy * corners + sx, fx, fy);
  }

  /** The severities at the four corners of a square, interpolated: (fx, fy) is how far across it, 0 to 1. */
  function between(corner: number, fx: number, fy: number): number {
    const low = severities[corner]!;
    const high = severities[corner + corners]!;
    const below = low + (severities[corner + 1]! - low) * fx;
    const above = high + (severities[corner + corners + 1]! - high) * fx;
    return below + (above - below) * fy;
  }

  /** Whether an offset in a border cell, whose list begins at `at`, lies inside one of the convex pieces: the exact answer. */
  function overlaps(at: number, x: number, y: number): boolean {
    for (;;) {
      const length = lists[at++]!;
      if (length === 0) return false;
      const end = at + length;
      while (at < end && inside(lists[at]!, x, y)) at++;
      if (at === end) return true;
      at = end;
    }
  }

  function inside(plane: number, x: number, y: number): boolean {
    return planes[plane]! * x + planes[plane + 1]! * y < planes[plane + 2]!;
  }

  function costAgainst(
    found: number,
    shape: number,
    x: number,
    y: number,
    left: number,
    right: number,
    below: number,
    above: number,
    limit: number,
  ): number {
    let cost = 0;
    for (let n = 0, k = 0; n < found; n++, k += 4) {
      if (boxes[k]! >= right || boxes[k + 1]! <= left) continue;
      if (boxes[k + 2]! >= above || boxes[k + 3]! <= below) continue;
      const severity = severityAt(shape, shapeOf[n]!, xOf[n]! - x, yOf[n]! - y);
      if (severity > 0) {
        cost += weight[n]! * severity;
        if (cost >= limit) return cost;
      }
    }
    return cost;
  }

  /** A table for the pair a, b, all its cells unknown. Returns its number. */
  function newTable(a: number, b: number): number {
    if (over()) throw new SearchIsOver();
    if (pairs.length === capacity || pieces > mostPieces) forget();
    const slot = pairs.length;
    const pair = pairOf(shapes[a]!, shapes[b]!, slack);
    pairs.push(pair);
    pieces += pair.planesAt.length;
    minX[slot] = pair.minX;
    minY[slot] = pair.minY;
    perX[slot] = 1 / pair.width;
    perY[slot] = 1 / pair.height;
    severities.fill(NaN, slot * cornersOfTable, (slot + 1) * cornersOfTable);
    share(a, b, slot, 1);
    const [half, otherHalf] = [shapes[a]!.halfTurned, shapes[b]!.halfTurned];
    if (half !== undefined && otherHalf !== undefined) share(half, otherHalf, slot, -1);
    return slot;
  }

  /** Gives a table to the pair a, b, and with the opposite way to b, a. */
  function share(a: number, b: number, slot: number, way: number): void {
    for (const [pair, sign] of [
      [a * count + b, way],
      [b * count + a, -way],
    ] as const) {
      // A shape with itself has one way.
      if (slots[pair] === slot) continue;
      slots[pair] = slot;
      ways[pair] = sign;
    }
  }

  function forget(): void {
    slots.fill(-1);
    status.fill(unknown);
    pairs.length = 0;
    pieces = 0;
    known.used = 0;
    listsUsed = 0;
  }

  /** Finds out what a cell is, and lists what has to be asked in it where it is border. Returns its status. */
  function classify(slot: number, cx: number, cy: number): number {
    const pair = pairs[slot]!;
    const crossings = crossingsIn(pair, cx, cy, known);
    planes = known.values;
    const found = crossings === null ? hit : crossings.length === 0 ? free : border;
    const cell = slot * cellsOfTable + cy * cells + cx;
    status[cell] = found;
    if (crossings !== null && found === border) first[cell] = listOf(crossings);
    return found;
  }

  /** Writes the list of a border cell. Returns where it begins. */
  function listOf(crossings: readonly Crossing[]): number {
    const list: number[] = [];
    for (const crossing of crossings) list.push(crossing.length, ...crossing);
    list.push(0);
    const at = listsUsed;
    listsUsed += list.length;
    if (listsUsed > lists.length) lists = grown(lists, Int32Array, listsUsed);
    lists.set(list, at);
    return at;
  }

  return { severityAt, costAgainst };
}
