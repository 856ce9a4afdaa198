/**
 * What two shapes have to do with each other, by the offset of the second's origin from the first's.
 *
 * Both shapes are unions of convex pieces. Piece a and piece b overlap exactly at the offsets that lie
 * inside one convex polygon, their Minkowski difference (convexDifference). So all offsets at which the
 * shapes overlap are the union of such polygons, one for each pair of pieces; they are called convex
 * pieces below. A convex polygon is the intersection of half planes, one for each side, so to ask
 * whether an offset overlaps is to test a few linear inequalities. A grid over the offsets saves most of
 * those: in one cell only the half planes that pass through it matter.
 */
import { convexDifference } from './convex.ts';
import type { Circles } from './circles.ts';
import type { Ring } from './polygon.ts';
import { boxOf, twiceArea } from './polygon.ts';

/** A shape at one turn, as the search sees it. */
export interface Shape {
  /** Convex, and together the shape. Worked out when first asked for, as are the circles: a first layout needs neither. */
  readonly pieces: () => readonly Ring[];
  /** They stand for it when the severity of an overlap is worked out. */
  readonly circles: () => Circles;
  /** The square root of the area of its convex hull: a length that says how large it is. */
  readonly size: number;
  /** The index of the shape that is this one turned by 180 degrees about the origin, if there is one. */
  readonly halfTurned?: number;
}

/** Two shapes, and a grid over the offsets of the second from the first at which their boxes meet. */
export interface Pair {
  readonly fixed: Shape;
  readonly moving: Shape;
  /** Overlaps less deep than this count as none. */
  readonly slack: number;
  /**
   * The convex pieces, whose union is all offsets at which the shapes overlap; the largest first. There may be a
   * hundred thousand of them in a search, so of each there is only: its box (minX, maxX, minY, maxY); whose difference
   * it is (piece a of `fixed` and b of `moving` as a * pieces of `moving` + b); and where its half planes are, or -1.
   */
  readonly boxes: Float64Array;
  readonly differenceOf: Int32Array;
  readonly planesAt: Int32Array;
  /** For each block of cells the pieces that reach into it; null: not yet known. */
  readonly near: (readonly number[] | null)[];
  /** Where the grid begins. */
  readonly minX: number;
  readonly minY: number;
  /** Size of a cell. */
  readonly width: number;
  readonly height: number;
}

/**
 * The half planes of many convex pieces, in one array. Of each piece: how many numbers follow; then three numbers for
 * each side: inside is where a x + b y < c, and (a, b) is the outward unit normal. Each side is moved in by the
 * slack. They are worked out when first asked for: those of most pieces never are.
 */
export interface HalfPlanes {
  values: Float64Array;
  used: number;
}

/** The half planes of one convex piece that pass through a cell, as indexes into HalfPlanes. */
export type Crossing = readonly number[];

/** A grid has so many cells along each side. Blocks of cells are a coarser grid on top of it, to find near pieces fast. */
export const cells = 36;
const blockCells = 6;
const blocks = cells / blockCells;

/** A pair with its grid, nothing of it looked at yet. Overlaps less deep than `slack` count as none. */
export function pairOf(fixed: Shape, moving: Shape, slack: number): Pair {
  const pieces = fixed
    .pieces()
    .flatMap((a) => moving.pieces().map((b) => convexDifference(a, b)))
    .map((ring, of) => ({ ...boxOf(ring), area: twiceArea(ring), of }))
    .sort((a, b) => b.area - a.area);
  const minX = Math.min(...pieces.map((piece) => piece.minX));
  const minY = Math.min(...pieces.map((piece) => piece.minY));
  const maxX = Math.max(...pieces.map((piece) => piece.maxX));
  const maxY = Math.max(...pieces.map((piece) => piece.maxY));
  return {
    fixed,
    moving,
    slack,
    boxes: Float64Array.from(pieces.flatMap((one) => [one.minX, one.maxX, one.minY, one.maxY])),
    differenceOf: Int32Array.from(pieces, ({ of }) => of),
    planesAt: new Int32Array(pieces.length).fill(-1),
    near: Array.from({ length: blocks * blocks }, () => null),
    minX,
    minY,
    width: (maxX - minX) / cells,
    height: (maxY - minY) / cells,
  };
}

/** Where the half planes of a piece are. If nobody has asked for them, they are worked out and added to `known`. */
function planesOf(pair: Pair, piece: number, known: HalfPlanes): number {
  if (pair.planesAt[piece]! >= 0) return pair.planesAt[piece]!;
  const moving = pair.moving.pieces();
  const of = pair.differenceOf[piece]!;
  const [a, b] = [Math.floor(of / moving.length), of % moving.length];
  const planes = planesWithin(convexDifference(pair.fixed.pieces()[a]!, moving[b]!), pair.slack);
  const at = known.used;
  known.used += 1 + planes.length;
  if (known.used > known.values.length) {
    known.values = grown(known.values, Float64Array, known.used);
  }
  known.values[at] = planes.length;
  known.values.set(planes, at + 1);
  pair.planesAt[piece] = at;
  return at;
}

/** The same values in an array twice as long, or `least` long if that is more. */
export function grown<A extends Float64Array | Int32Array>(
  values: A,
  Values: new (length: number) => A,
  least: number,
): A {
  const larger = new Values(Math.max(2 * values.length, least));
  larger.set(values);
  return larger;
}

/** The half planes of a convex polygon, each moved in by `slack`: see HalfPlanes. */
function planesWithin(ring: Ring, slack: number): number[] {
  const planes: number[] = [];
  const n = ring.length;
  for (let i = 0; i < n; i += 2) {
    const x0 = ring[i]!;
    const y0 = ring[i + 1]!;
    const dx = ring[(i + 2) % n]! - x0;
    const dy = ring[(i + 3) % n]! - y0;
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length > 0) planes.push(dy / length, -dx / length, (dy * x0 - dx * y0) / length - slack);
  }
  return planes;
}

/** The half planes that pass through a cell. Null: every offset in it overlaps. Empty: none does. */
export function crossingsIn(
  pair: Pair,
  cx: number,
  cy: number,
  known: HalfPlanes,
): Crossing[] | null {
  const x0 = pair.minX + cx * pair.width;
  const y0 = pair.minY + cy * pair.height;
  const x1 = x0 + pair.width;
  const y1 = y0 + pair.height;
  const crossings: Crossing[] = [];
  for (const piece of piecesNear(pair, cx, cy, known)) {
    const planes = planesThrough(pair, piece, known, x0, y0, x1, y1);
    if (planes === null) continue;
    if (planes.length === 0) return null;
    crossings.push(planes);
  }
  return crossings;
}

/** The convex pieces that reach into the block in which a cell lies. */
function piecesNear(pair: Pair, cx: number, cy: number, store: HalfPlanes): readonly number[] {
  const bx = Math.floor(cx / blockCells);
  const by = Math.floor(cy / blockCells);
  const known = pair.near[by * blocks + bx]!;
  if (known !== null) return known;
  const width = blockCells * pair.width;
  const height = blockCells * pair.height;
  const x0 = pair.minX + bx * width;
  const y0 = pair.minY + by * height;
  const near: number[] = [];
  for (let piece = 0; piece < pair.planesAt.length; piece++) {
    const planes = planesThrough(pair, piece, store, x0, y0, x0 + width, y0 + height);
    if (planes !== null) near.push(piece);
    // This piece alone covers the block: no other can matter in it.
    if (planes?.length === 0) break;
  }
  pair.near[by * blocks + bx] = near;
  return near;
}

/**
 * The half planes of a convex piece that pass through the cell (x0, y0) to (x1, y1), as indexes into
 * `known`. Null: the cell lies outside one of them, so outside the piece. Empty: it lies inside all of
 * them. a x + b y is least and greatest at corners of the cell, which the signs of a and b tell.
 */
function planesThrough(
  pair: Pair,
  piece: number,
  known: HalfPlanes,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
): number[] | null {
  const { boxes } = pair;
  const k = 4 * piece;
  if (boxes[k]! >= x1 || boxes[k + 1]! <= x0) return null;
  if (boxes[k + 2]! >= y1 || boxes[k + 3]! <= y0) return null;
  const at = planesOf(pair, piece, known);
  const planes = known.values;
  const end = at + 1 + planes[at]!;
  const crossing: number[] = [];
  for (let i = at + 1; i < end; i += 3) {
    const a = planes[i]!;
    const b = planes[i + 1]!;
    const c = planes[i + 2]!;
    const least = a * (a > 0 ? x0 : x1) + b * (b > 0 ? y0 : y1);
    if (least >= c) return null;
    const most = a * (a > 0 ? x1 : x0) + b * (b > 0 ? y1 : y0);
    if (most >= c) crossing.push(i);
  }
  return crossing;
}

/** No overlap has a severity below this, times the scale: an overlap must never look like none. */
const leastSeverity = 1e-9;

/**
 * Circles that do not touch count a little, too, down from this share of the shapes' size: near the
 * border of an overlap this still tells which way leads out.
 */
const reach = 0.01;

/**
 * How bad the overlap is at corner (x, y) of the grid. Each shape is stood for by circles inside it. For
 * each pair of circles, the depth to which they overlap is multiplied by the smaller radius; the severity
 * is the square root of the sum. Circles that do not touch add ever less the further they are apart.
 * After Gardeyn, Vanden Berghe and Wauters 2025, arXiv:2509.13329.
 */
export function severityOf(pair: Pair, x: number, y: number): number {
  const fixed = pair.fixed.circles();
  const moving = pair.moving.circles();
  const scale = Math.sqrt(pair.fixed.size * pair.moving.size);
  const dx = pair.minX + x * pair.width;
  const dy = pair.minY + y * pair.height;
  const least = reach * Math.max(scale, 1e-12);
  let sum = 0;
  for (let i = 0; i < fixed.length; i += 3) {
    const ax = fixed[i]! - dx;
    const ay = fixed[i + 1]! - dy;
    const ar = fixed[i + 2]!;
    for (let j = 0; j < moving.length; j += 3) {
      const br = moving[j + 2]!;
      const ux = moving[j]! - ax;
      const uy = moving[j + 1]! - ay;
      const depth = ar + br - Math.sqrt(ux * ux + uy * uy);
      // Below `least` the depth goes on as a hyperbola with the same value and slope there; it never reaches 0.
      const counted = depth >= least ? depth : (least * least) / (2 * least - depth);
      sum += counted * (ar < br ? ar : br);
    }
  }
  // A needle may have no circles at all, and its overlaps are overlaps all the same.
  return scale * Math.max(leastSeverity, Math.sqrt(sum));
}
