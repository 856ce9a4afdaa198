import { convexDifference } from './convex.ts';
import type { Box } from '../../geometry/box.ts';
import type { Circles } from './circles.ts';
import type { Ring } from './polygon.ts';
import { boxOf, twiceArea } from './polygon.ts';

/**
 * How much two shapes overlap, by the offset of the second from the first: a grid over all offsets at
 * which their boxes meet, filled as it is asked. A cell lies wholly free, wholly in overlap, or on the
 * border between; on the border the answer is exact, from the half planes that pass through the cell.
 */
export interface PairTable extends Box {
  /** Cells a unit of length. */
  readonly perX: number;
  readonly perY: number;
  readonly status: Uint8Array;
  /** Severities at the corners of cells, NaN where not yet known. */
  readonly severities: Float32Array;
  /** Where the half planes of a border cell begin in `planes`. */
  readonly first: Int32Array;
  /** For each border cell groups of half planes, each group its length, then a, b, c: inside where a x + b y < c. */
  planes: Float64Array;
  used: number;
  /** Convex pieces that together are the offsets in overlap, the largest first. */
  readonly pieces: readonly ConvexPiece[];
  /** Those that reach into each block of cells; null where not yet known. */
  readonly near: (readonly ConvexPiece[] | null)[];
  readonly fixed: Circles;
  readonly moving: Circles;
  /** Severities are multiplied with this. */
  readonly scale: number;
  /** Overlaps less deep than this are none. */
  readonly slack: number;
}

interface ConvexPiece extends Box {
  /** a, b, c for each side, (a, b) its outward unit normal. */
  readonly planes: Float64Array;
  readonly ring: Ring;
  readonly area: number;
}

/** Cells across a table, each way, and across a block of them. */
export const cells = 48;
const nodes = cells + 1;
const blockCells = 6;
const blocks = cells / blockCells;

const unknown = 0;
const free = 1;
const hit = 2;
const border = 3;

/** A shape at one turn, as the tables see it. */
export interface Shape {
  readonly pieces: readonly Ring[];
  readonly circles: Circles;
  /** Root of the area of its hull. */
  readonly size: number;
}

/** `slack`: overlaps less deep than this count as none. */
export function pairTable(fixed: Shape, moving: Shape, slack: number): PairTable {
  const pieces = fixed.pieces
    .flatMap((a) => moving.pieces.map((b) => convexPiece(convexDifference(a, b))))
    .sort((a, b) => b.area - a.area);
  const minX = Math.min(...pieces.map((piece) => piece.minX));
  const minY = Math.min(...pieces.map((piece) => piece.minY));
  const maxX = Math.max(...pieces.map((piece) => piece.maxX));
  const maxY = Math.max(...pieces.map((piece) => piece.maxY));
  return {
    minX,
    minY,
    maxX,
    maxY,
    perX: cells / (maxX - minX),
    perY: cells / (maxY - minY),
    status: new Uint8Array(cells * cells),
    severities: new Float32Array(nodes * nodes).fill(NaN),
    first: new Int32Array(cells * cells),
    planes: new Float64Array(1024),
    used: 0,
    pieces,
    near: Array.from({ length: blocks * blocks }, () => null),
    fixed: fixed.circles,
    moving: moving.circles,
    scale: Math.sqrt(fixed.size * moving.size),
    slack,
  };
}

function convexPiece(ring: Ring): ConvexPiece {
  const planes: number[] = [];
  const n = ring.length;
  for (let i = 0; i < n; i += 2) {
    const x0 = ring[i]!;
    const y0 = ring[i + 1]!;
    const dx = ring[(i + 2) % n]! - x0;
    const dy = ring[(i + 3) % n]! - y0;
    const length = Math.hypot(dx, dy);
    if (length > 0) planes.push(dy / length, -dx / length, (dy * x0 - dx * y0) / length);
  }
  return { ...boxOf(ring), planes: Float64Array.from(planes), ring, area: twiceArea(ring) / 2 };
}

/** How bad the overlap at an offset is, 0 where there is none. */
export function severityAt(table: PairTable, dx: number, dy: number): number {
  const gx = (dx - table.minX) * table.perX;
  const gy = (dy - table.minY) * table.perY;
  if (!(gx > 0 && gy > 0 && gx < cells && gy < cells)) return 0;
  const cx = gx | 0;
  const cy = gy | 0;
  const cell = cy * cells + cx;
  let status = table.status[cell]!;
  if (status === unknown) status = classify(table, cx, cy);
  if (status === free) return 0;
  if (status === border && !overlaps(table, cell, dx, dy)) return 0;
  const node = cy * nodes + cx;
  const { severities } = table;
  let s00 = severities[node]!;
  let s10 = severities[node + 1]!;
  let s01 = severities[node + nodes]!;
  let s11 = severities[node + nodes + 1]!;
  if (s00 !== s00) s00 = severityOfNode(table, node);
  if (s10 !== s10) s10 = severityOfNode(table, node + 1);
  if (s01 !== s01) s01 = severityOfNode(table, node + nodes);
  if (s11 !== s11) s11 = severityOfNode(table, node + nodes + 1);
  const fx = gx - cx;
  const fy = gy - cy;
  const low = s00 + (s10 - s00) * fx;
  const high = s01 + (s11 - s01) * fx;
  slope[0] = ((s10 - s00) * (1 - fy) + (s11 - s01) * fy) * table.perX;
  slope[1] = (high - low) * table.perY;
  return low + (high - low) * fy;
}

/** How the severity last asked for grows with dx and dy, where it was not 0. */
export const slope = new Float64Array(2);

/** Exactly, from the half planes of a border cell. */
function overlaps(
  { planes, first, slack }: PairTable,
  cell: number,
  x: number,
  y: number,
): boolean {
  let at = first[cell]!;
  for (;;) {
    const count = planes[at++]!;
    if (count === 0) return false;
    const end = at + 3 * count;
    while (at < end && planes[at]! * x + planes[at + 1]! * y < planes[at + 2]! - slack) at += 3;
    if (at === end) return true;
    at = end;
  }
}

function classify(table: PairTable, cx: number, cy: number): number {
  const x0 = table.minX + cx / table.perX;
  const y0 = table.minY + cy / table.perY;
  const x1 = x0 + 1 / table.perX;
  const y1 = y0 + 1 / table.perY;
  const cell = cy * cells + cx;
  const groups: number[] = [];
  for (const piece of piecesNear(table, cx, cy)) {
    const crossing = planesThrough(piece, x0, y0, x1, y1, table.slack);
    if (crossing === null) continue;
    if (crossing.length === 0) return (table.status[cell] = hit);
    groups.push(crossing.length / 3, ...crossing);
  }
  if (groups.length === 0) return (table.status[cell] = free);
  groups.push(0);
  table.first[cell] = keep(table, groups);
  return (table.status[cell] = border);
}

/** The pieces that reach into the block of a cell. */
function piecesNear(table: PairTable, cx: number, cy: number): readonly ConvexPiece[] {
  const bx = Math.floor(cx / blockCells);
  const by = Math.floor(cy / blockCells);
  const known = table.near[by * blocks + bx]!;
  if (known !== null) return known;
  const width = blockCells / table.perX;
  const height = blockCells / table.perY;
  const x0 = table.minX + bx * width;
  const y0 = table.minY + by * height;
  const near: ConvexPiece[] = [];
  for (const piece of table.pieces) {
    const crossing = planesThrough(piece, x0, y0, x0 + width, y0 + height, 0);
    if (crossing !== null) near.push(piece);
    if (crossing?.length === 0) break;
  }
  table.near[by * blocks + bx] = near;
  return near;
}

/** The half planes of a convex piece that a cell is not wholly inside of; null where it is wholly outside one. */
function planesThrough(
  { planes, minX, maxX, minY, maxY }: ConvexPiece,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  slack: number,
): number[] | null {
  if (minX >= x1 || maxX <= x0 || minY >= y1 || maxY <= y0) return null;
  const crossing: number[] = [];
  for (let i = 0; i < planes.length; i += 3) {
    const a = planes[i]!;
    const b = planes[i + 1]!;
    const c = planes[i + 2]! - slack;
    const least = a * (a > 0 ? x0 : x1) + b * (b > 0 ? y0 : y1);
    if (least >= c) return null;
    const most = a * (a > 0 ? x1 : x0) + b * (b > 0 ? y1 : y0);
    if (most >= c) crossing.push(a, b, planes[i + 2]!);
  }
  return crossing;
}

function keep(table: PairTable, values: readonly number[]): number {
  const at = table.used;
  if (at + values.length > table.planes.length) {
    const larger = new Float64Array(Math.max(2 * table.planes.length, at + values.length));
    larger.set(table.planes);
    table.planes = larger;
  }
  table.planes.set(values, at);
  table.used = at + values.length;
  return at;
}

/** Circles that miss each other by this share of the larger shape still count a little: it shows the way out. */
const reach = 0.01;

/**
 * The root of the sum, over all pairs of circles, of the depth to which they overlap times the smaller
 * radius; circles that miss each other add ever less the further they are apart (after Gardeyn, Vanden
 * Berghe and Wauters 2025, arXiv:2509.13329).
 */
function severityOfNode(table: PairTable, node: number): number {
  const { fixed, moving, scale } = table;
  const dx = table.minX + (node % nodes) / table.perX;
  const dy = table.minY + Math.floor(node / nodes) / table.perY;
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
  const severity = scale * Math.sqrt(sum);
  table.severities[node] = severity;
  return severity;
}
