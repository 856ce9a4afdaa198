import { convexDifference } from './convex.ts';
import type { Box } from '../../geometry/box.ts';
import type { Circles } from './circles.ts';
import type { Ring } from './polygon.ts';
import { boxOf, twiceArea } from './polygon.ts';

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
}

/** What is needed only to fill a table. */
interface Source {
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

interface ConvexPiece extends Box {
  /** a, b, c for each side, (a, b) its outward unit normal. */
  readonly planes: Float64Array;
  readonly area: number;
}

/** Cells across a table, each way, and across a block of them. */
const cells = 36;
const corners = cells + 1;
const cellsOfTable = cells * cells;
const cornersOfTable = corners * corners;
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

/** Tables kept at most; past it all are forgotten and filled anew. Some 120 MB. */
const mostTables = 10_000;
/** Convex pieces kept for them at most, some 400 bytes each. */
const mostPieces = 150_000;

/** Tables of all pairs of `shapes`; overlaps less deep than `slack` count as none. */
export function pairTables(shapes: readonly Shape[], slack: number): PairTables {
  const count = shapes.length;
  const capacity = Math.min((count * (count + 1)) / 2, mostTables);
  const slots = new Int32Array(count * count).fill(-1);
  const minX = new Float64Array(capacity);
  const minY = new Float64Array(capacity);
  const perX = new Float64Array(capacity);
  const perY = new Float64Array(capacity);
  const status = new Uint8Array(capacity * cellsOfTable);
  // Of border cells, where their half planes begin.
  const first = new Int32Array(capacity * cellsOfTable);
  // Severities at the corners of cells, NaN where not yet known.
  const severities = new Float32Array(capacity * cornersOfTable);
  // For each border cell groups of half planes, each group its length, then a, b, c: inside where a x + b y < c.
  let planes = new Float64Array(4096);
  let used = 0;
  const sources: Source[] = [];
  let pieces = 0;

  function severityAt(a: number, b: number, ax: number, ay: number): number {
    const turned = a > b;
    const dx = turned ? -ax : ax;
    const dy = turned ? -ay : ay;
    const pair = turned ? b * count + a : a * count + b;
    let slot = slots[pair]!;
    if (slot < 0) slot = newTable(pair);
    const wide = perX[slot]!;
    const high = perY[slot]!;
    const gx = (dx - minX[slot]!) * wide;
    const gy = (dy - minY[slot]!) * high;
    if (!(gx > 0 && gy > 0 && gx < cells && gy < cells)) return 0;
    const cx = gx | 0;
    const cy = gy | 0;
    const cell = slot * cellsOfTable + cy * cells + cx;
    let found = status[cell]!;
    if (found === unknown) found = classify(slot, cx, cy);
    if (found === free) return 0;
    if (found === border && !overlaps(first[cell]!, dx, dy)) return 0;
    const corner = slot * cornersOfTable + cy * corners + cx;
    const s00 = severities[corner]!;
    const s10 = severities[corner + 1]!;
    const s01 = severities[corner + corners]!;
    const s11 = severities[corner + corners + 1]!;
    const fx = gx - cx;
    const fy = gy - cy;
    const low = s00 + (s10 - s00) * fx;
    const top = s01 + (s11 - s01) * fx;
    return low + (top - low) * fy;
  }

  /** Exactly, from the half planes of a border cell. */
  function overlaps(at: number, x: number, y: number): boolean {
    for (;;) {
      const groups = planes[at++]!;
      if (groups === 0) return false;
      const end = at + 3 * groups;
      while (at < end && planes[at]! * x + planes[at + 1]! * y < planes[at + 2]!) at += 3;
      if (at === end) return true;
      at = end;
    }
  }

  function newTable(pair: number): number {
    if (sources.length === capacity || pieces > mostPieces) forget();
    const slot = sources.length;
    const source = sourceOf(shapes[Math.floor(pair / count)]!, shapes[pair % count]!);
    sources.push(source);
    pieces += source.pieces.length;
    slots[pair] = slot;
    minX[slot] = source.minX;
    minY[slot] = source.minY;
    perX[slot] = 1 / source.width;
    perY[slot] = 1 / source.height;
    severities.fill(NaN, slot * cornersOfTable, (slot + 1) * cornersOfTable);
    return slot;
  }

  function forget(): void {
    slots.fill(-1);
    status.fill(unknown);
    sources.length = 0;
    pieces = 0;
    used = 0;
  }

  function classify(slot: number, cx: number, cy: number): number {
    const source = sources[slot]!;
    const groups = groupsIn(source, cx, cy, slack);
    const found = groups === null ? hit : groups.length === 0 ? free : border;
    const cell = slot * cellsOfTable + cy * cells + cx;
    status[cell] = found;
    if (found === free) return found;
    for (const [x, y] of cornersOfCell) {
      const corner = slot * cornersOfTable + (cy + y) * corners + cx + x;
      if (Number.isNaN(severities[corner])) severities[corner] = severityOf(source, cx + x, cy + y);
    }
    if (groups !== null && found === border) first[cell] = keep([...groups, 0]);
    return found;
  }

  function keep(values: readonly number[]): number {
    const at = used;
    if (at + values.length > planes.length) {
      const larger = new Float64Array(Math.max(2 * planes.length, at + values.length));
      larger.set(planes);
      planes = larger;
    }
    planes.set(values, at);
    used = at + values.length;
    return at;
  }

  return { severityAt };
}

const cornersOfCell: readonly [number, number][] = [
  [0, 0],
  [1, 0],
  [0, 1],
  [1, 1],
];

function sourceOf(fixed: Shape, moving: Shape): Source {
  const pieces = fixed.pieces
    .flatMap((a) => moving.pieces.map((b) => convexPiece(convexDifference(a, b))))
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
  return { ...boxOf(ring), planes: Float64Array.from(planes), area: twiceArea(ring) / 2 };
}

/** The groups of half planes that pass through a cell; null where it lies wholly in overlap. */
function groupsIn(source: Source, cx: number, cy: number, slack: number): number[] | null {
  const x0 = source.minX + cx * source.width;
  const y0 = source.minY + cy * source.height;
  const x1 = x0 + source.width;
  const y1 = y0 + source.height;
  const groups: number[] = [];
  for (const piece of piecesNear(source, cx, cy, slack)) {
    const crossing = planesThrough(piece, x0, y0, x1, y1, slack);
    if (crossing === null) continue;
    if (crossing.length === 0) return null;
    groups.push(crossing.length / 3, ...crossing);
  }
  return groups;
}

/** The pieces that reach into the block of a cell. */
function piecesNear(source: Source, cx: number, cy: number, slack: number): readonly ConvexPiece[] {
  const bx = Math.floor(cx / blockCells);
  const by = Math.floor(cy / blockCells);
  const known = source.near[by * blocks + bx]!;
  if (known !== null) return known;
  const width = blockCells * source.width;
  const height = blockCells * source.height;
  const x0 = source.minX + bx * width;
  const y0 = source.minY + by * height;
  const near: ConvexPiece[] = [];
  for (const piece of source.pieces) {
    const crossing = planesThrough(piece, x0, y0, x0 + width, y0 + height, slack);
    if (crossing !== null) near.push(piece);
    if (crossing?.length === 0) break;
  }
  source.near[by * blocks + bx] = near;
  return near;
}

/**
 * The half planes of a convex piece, drawn in by the slack, that a cell is not wholly inside of; null
 * where it is wholly outside one.
 */
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
    if (most >= c) crossing.push(a, b, c);
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
function severityOf(source: Source, x: number, y: number): number {
  const { circles: fixed } = source.fixed;
  const { circles: moving } = source.moving;
  const scale = Math.sqrt(source.fixed.size * source.moving.size);
  const dx = source.minX + x * source.width;
  const dy = source.minY + y * source.height;
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
