import type { ConvexPiece, Crossing, Pair, Shape } from './pair.ts';
import { cells, crossingsIn, pairOf, severityOf } from './pair.ts';

/**
 * How much two shapes overlap, by the offset of the second from the first: for each pair a grid over
 * all offsets at which their boxes meet, filled as it is asked. A cell lies wholly free, wholly in
 * overlap, or on the border between; on the border the answer is exact, from the half planes that pass
 * through the cell.
 */
export interface PairTables {
  /**
   * How bad the overlap of shape b with shape a is, b's origin (dx, dy) from a's; 0 where there is none.
   * For offsets at which their boxes meet.
   */
  readonly severityAt: (a: number, b: number, dx: number, dy: number) => number;
  /**
   * The weighted severities of a shape at (x, y) against the first `found` of the neighbours; no less
   * than `limit` where they would be more. (minX, maxX, minY, maxY) is the shape's box there.
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

/** Shapes that lie somewhere: side by side in arrays of their own, which is what makes a search through them fast. */
export interface Neighbours {
  readonly shape: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Of each minX, maxX, minY, maxY where it lies. */
  readonly boxes: Float64Array;
  readonly weight: Float64Array;
}

export function roomFor(count: number): Neighbours {
  return {
    shape: new Int32Array(count),
    x: new Float64Array(count),
    y: new Float64Array(count),
    boxes: new Float64Array(4 * count),
    weight: new Float64Array(count),
  };
}

const corners = cells + 1;
const cellsOfTable = cells * cells;
const cornersOfTable = corners * corners;

const unknown = 0;
const free = 1;
const hit = 2;
const border = 3;

/** Tables kept at most; past it all are forgotten and filled anew. Some 70 MB. */
const mostTables = 6000;
/** Convex pieces kept for them at most, some 600 bytes each. */
const mostPieces = 100_000;

/** Tables of all pairs of `shapes`; overlaps less deep than `slack` count as none. */
export function pairTables(
  shapes: readonly Shape[],
  slack: number,
  neighbours: Neighbours = roomFor(0),
): PairTables {
  const count = shapes.length;
  const capacity = Math.min((count * (count + 1)) / 2, mostTables);
  const slots = new Int32Array(count * count).fill(-1);
  // A pair the other way round, or both turned by half, has the same table with offsets the other way.
  const ways = new Int8Array(count * count).fill(1);
  const minX = new Float64Array(capacity);
  const minY = new Float64Array(capacity);
  const perX = new Float64Array(capacity);
  const perY = new Float64Array(capacity);
  const status = new Uint8Array(capacity * cellsOfTable);
  // Of border cells, where their lists begin.
  const first = new Int32Array(capacity * cellsOfTable);
  // Severities at the corners of cells, NaN where not yet known.
  const severities = new Float32Array(capacity * cornersOfTable);
  // a, b, c of the half planes of all convex pieces that borders pass through.
  let planes = new Float64Array(4096);
  let planesUsed = 0;
  const planesAt = new Map<ConvexPiece, number>();
  // For each border cell groups of half planes, each group its length, then where they begin; 0 at the end.
  let lists = new Int32Array(4096);
  let listsUsed = 0;
  const pairs: Pair[] = [];
  let pieces = 0;
  const { shape: shapeOf, x: xOf, y: yOf, boxes, weight } = neighbours;

  // No longer than this, so that it becomes part of the loops which ask it.
  function severityAt(a: number, b: number, ax: number, ay: number): number {
    const pair = a * count + b;
    let slot = slots[pair]!;
    if (slot < 0) slot = newTable(a, b);
    const dx = ways[pair]! * ax;
    const dy = ways[pair]! * ay;
    const gx = (dx - minX[slot]!) * perX[slot]!;
    const gy = (dy - minY[slot]!) * perY[slot]!;
    if (!(gx > 0 && gy > 0 && gx < cells && gy < cells)) return 0;
    const cx = gx | 0;
    const cy = gy | 0;
    const cell = slot * cellsOfTable + cy * cells + cx;
    let found = status[cell]!;
    if (found === unknown) found = classify(slot, cx, cy);
    if (found === free) return 0;
    if (found === border && !overlaps(first[cell]!, dx, dy)) return 0;
    return between(slot * cornersOfTable + cy * corners + cx, gx - cx, gy - cy);
  }

  /** The severities at the corners of a cell, by how far across it. */
  function between(corner: number, fx: number, fy: number): number {
    const low = severities[corner]!;
    const high = severities[corner + corners]!;
    const below = low + (severities[corner + 1]! - low) * fx;
    const above = high + (severities[corner + corners + 1]! - high) * fx;
    return below + (above - below) * fy;
  }

  /** Exactly, from the half planes of a border cell. */
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

  function newTable(a: number, b: number): number {
    if (pairs.length === capacity || pieces > mostPieces) forget();
    const slot = pairs.length;
    const pair = pairOf(shapes[a]!, shapes[b]!, slack);
    pairs.push(pair);
    pieces += pair.pieces.length;
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

  /** A pair has this table, and so has it the other way round. */
  function share(a: number, b: number, slot: number, way: number): void {
    for (const [pair, sign] of [
      [a * count + b, way],
      [b * count + a, -way],
    ] as const) {
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
    planesAt.clear();
    planesUsed = 0;
    listsUsed = 0;
  }

  function classify(slot: number, cx: number, cy: number): number {
    const pair = pairs[slot]!;
    const crossings = crossingsIn(pair, cx, cy);
    const found = crossings === null ? hit : crossings.length === 0 ? free : border;
    const cell = slot * cellsOfTable + cy * cells + cx;
    status[cell] = found;
    if (found === free) return found;
    for (const [x, y] of cornersOfCell) {
      const corner = slot * cornersOfTable + (cy + y) * corners + cx + x;
      if (Number.isNaN(severities[corner])) severities[corner] = severityOf(pair, cx + x, cy + y);
    }
    if (crossings !== null && found === border) first[cell] = listOf(crossings);
    return found;
  }

  function listOf(crossings: readonly Crossing[]): number {
    const list: number[] = [];
    for (const { piece, planes: crossing } of crossings) {
      const base = planesOf(piece);
      list.push(crossing.length);
      for (const plane of crossing) list.push(base + plane);
    }
    list.push(0);
    const at = listsUsed;
    listsUsed += list.length;
    if (listsUsed > lists.length) lists = grown(lists, Int32Array, listsUsed);
    lists.set(list, at);
    return at;
  }

  function planesOf(piece: ConvexPiece): number {
    const known = planesAt.get(piece);
    if (known !== undefined) return known;
    const at = planesUsed;
    const own = piece.planes();
    planesUsed += own.length;
    if (planesUsed > planes.length) planes = grown(planes, Float64Array, planesUsed);
    planes.set(own, at);
    planesAt.set(piece, at);
    return at;
  }

  return { severityAt, costAgainst };
}

const cornersOfCell: readonly [number, number][] = [
  [0, 0],
  [1, 0],
  [0, 1],
  [1, 1],
];

/** The same values with room for twice as many, or for `least`. */
function grown<A extends Float64Array | Int32Array>(
  values: A,
  Values: new (length: number) => A,
  least: number,
): A {
  const larger = new Values(Math.max(2 * values.length, least));
  larger.set(values);
  return larger;
}
