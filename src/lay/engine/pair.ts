import { convexDifference } from './convex.ts';
import type { Box } from '../../geometry/paths/box.ts';
import type { Circles } from './circles.ts';
import type { Ring } from './polygon.ts';
import { boxOf, twiceArea } from './polygon.ts';

/** A shape at one turn, as the search sees it. */
export interface Shape {
  readonly pieces: readonly Ring[];
  readonly circles: Circles;
  /** Root of the area of its hull. */
  readonly size: number;
  /** Which of the shapes is this one turned by half about the origin, where there is one. */
  readonly halfTurned?: number;
}

/** Two shapes, and a grid over the offsets of the second from the first at which their boxes meet. */
export interface Pair {
  readonly fixed: Shape;
  readonly moving: Shape;
  /** Convex pieces that together are the offsets in overlap, the largest first. */
  readonly pieces: readonly ConvexPiece[];
  /** Those that reach into each block of cells; null where not yet known. */
  readonly near: (readonly ConvexPiece[] | null)[];
  readonly minX: number;
  readonly minY: number;
  /** Of a cell. */
  readonly width: number;
  readonly height: number;
}

export interface ConvexPiece extends Box {
  readonly area: number;
  /**
   * a, b, c for each side, inside where a x + b y < c; (a, b) its outward unit normal, drawn in by the
   * slack. Most pieces are never asked for them.
   */
  readonly planes: () => Float64Array;
}

/** Of one convex piece the half planes that pass through a cell, by where they begin in its planes. */
export interface Crossing {
  readonly piece: ConvexPiece;
  readonly planes: readonly number[];
}

/** Cells across a grid, each way, and across a block of them. */
export const cells = 36;
const blockCells = 6;
const blocks = cells / blockCells;

/** Overlaps less deep than `slack` count as none. */
export function pairOf(fixed: Shape, moving: Shape, slack: number): Pair {
  const pieces = fixed.pieces
    .flatMap((a) => moving.pieces.map((b) => convexPiece(convexDifference(a, b), slack)))
    .sort((a, b) => b.area - a.area);
  const minX = Math.min(...pieces.map((piece) => piece.minX));
  const minY = Math.min(...pieces.map((piece) => piece.minY));
  const maxX = Math.max(...pieces.map((piece) => piece.maxX));
  const maxY = Math.max(...pieces.map((piece) => piece.maxY));
  return {
    fixed,
    moving,
    pieces,
    near: Array.from({ length: blocks * blocks }, () => null),
    minX,
    minY,
    width: (maxX - minX) / cells,
    height: (maxY - minY) / cells,
  };
}

function convexPiece(ring: Ring, slack: number): ConvexPiece {
  let known: Float64Array | null = null;
  const planes = (): Float64Array => (known ??= planesOf(ring, slack));
  return { ...boxOf(ring), area: twiceArea(ring) / 2, planes };
}

function planesOf(ring: Ring, slack: number): Float64Array {
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
  return Float64Array.from(planes);
}

/** The half planes that pass through a cell; null where it lies wholly in overlap, none where it lies wholly free. */
export function crossingsIn(pair: Pair, cx: number, cy: number): Crossing[] | null {
  const x0 = pair.minX + cx * pair.width;
  const y0 = pair.minY + cy * pair.height;
  const x1 = x0 + pair.width;
  const y1 = y0 + pair.height;
  const crossings: Crossing[] = [];
  for (const piece of piecesNear(pair, cx, cy)) {
    const planes = planesThrough(piece, x0, y0, x1, y1);
    if (planes === null) continue;
    if (planes.length === 0) return null;
    crossings.push({ piece, planes });
  }
  return crossings;
}

/** The pieces that reach into the block of a cell. */
function piecesNear(pair: Pair, cx: number, cy: number): readonly ConvexPiece[] {
  const bx = Math.floor(cx / blockCells);
  const by = Math.floor(cy / blockCells);
  const known = pair.near[by * blocks + bx]!;
  if (known !== null) return known;
  const width = blockCells * pair.width;
  const height = blockCells * pair.height;
  const x0 = pair.minX + bx * width;
  const y0 = pair.minY + by * height;
  const near: ConvexPiece[] = [];
  for (const piece of pair.pieces) {
    const planes = planesThrough(piece, x0, y0, x0 + width, y0 + height);
    if (planes !== null) near.push(piece);
    if (planes?.length === 0) break;
  }
  pair.near[by * blocks + bx] = near;
  return near;
}

/** Where the half planes of a convex piece begin that a cell is not wholly inside of; null where it is wholly outside one. */
function planesThrough(
  piece: ConvexPiece,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
): number[] | null {
  if (piece.minX >= x1 || piece.maxX <= x0 || piece.minY >= y1 || piece.maxY <= y0) return null;
  const planes = piece.planes();
  const crossing: number[] = [];
  for (let i = 0; i < planes.length; i += 3) {
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

/** Of any overlap, times the scale. */
const leastSeverity = 1e-9;

/** Circles that miss each other by this share of the larger shape still count a little: it shows the way out. */
const reach = 0.01;

/**
 * At a corner of cells: the root of the sum, over all pairs of circles, of the depth to which they
 * overlap times the smaller radius; circles that miss each other add ever less the further they are
 * apart (after Gardeyn, Vanden Berghe and Wauters 2025, arXiv:2509.13329).
 */
export function severityOf(pair: Pair, x: number, y: number): number {
  const { circles: fixed } = pair.fixed;
  const { circles: moving } = pair.moving;
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
      const counted = depth >= least ? depth : (least * least) / (2 * least - depth);
      sum += counted * (ar < br ? ar : br);
    }
  }
  // Needles may have no circles at all: an overlap is never none.
  return scale * Math.max(leastSeverity, Math.sqrt(sum));
}
