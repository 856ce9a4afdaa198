import type { Box } from '../../geometry/paths/box.ts';
import { boxOfPoints } from '../../geometry/paths/box.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { roundingNoise } from './lattice.ts';
import type { Ring } from './polygon.ts';
import { cornersOf } from './polygon.ts';

/**
 * A shape cut into level slabs at the heights of its vertices. Within a slab no vertex lies, so the
 * shape is a row of trapeziums there. Two shapes can be compared exactly, slab by slab.
 */
export interface Slices {
  /** The box of the whole shape. */
  readonly box: Box;
  /** Rising; slab k lies between heights[k] and heights[k + 1]. */
  readonly heights: Float64Array;
  /** The trapeziums of slab k are first[k] up to first[k + 1]. */
  readonly first: Int32Array;
  /** Four numbers for each trapezium: x of its left side at the slab's foot, dx/dy of that side; the same of its right side. */
  readonly chords: Float64Array;
}

/** A shape at one of its turns, its own origin at (0, 0). */
export interface SlicedTurn {
  /** Its number in the instance made ready. */
  readonly turn: number;
  /** The box that must lie in the strip. */
  readonly box: Box;
  readonly slices: Slices;
}

/** Open intervals, rising, that do not overlap, as a flat list: low, high, low, high ... */
export type Intervals = readonly number[];

/** A side of a contour, by its lower and its upper end. */
interface SlicedEdge {
  readonly low: Point;
  readonly high: Point;
}

/** Heights nearer together than this are one height; a slab thinner than this is left out. */
const thin = roundingNoise;

/** The slices of all that lies inside an odd number of the contours. Their first point is not repeated. */
export function slicesOf(contours: readonly (readonly Point[])[]): Slices {
  const edges = contours.flatMap(upwardEdges);
  const heights = distinctHeights(edges);
  const first = [0];
  const chords: number[] = [];
  for (let k = 0; k + 1 < heights.length; k++) {
    chords.push(...chordsOf(edges, heights[k]!, heights[k + 1]!));
    first.push(chords.length / 4);
  }
  return {
    box: boxOfPoints(contours.flat()),
    heights: Float64Array.from(heights),
    first: Int32Array.from(first),
    chords: Float64Array.from(chords),
  };
}

/** The same of contours as the engine has them. */
export function slicesOfRings(rings: readonly Ring[]): Slices {
  return slicesOf(rings.map((ring) => cornersOf(ring).map(([x, y]) => ({ x, y }))));
}

function upwardEdges(contour: readonly Point[]): SlicedEdge[] {
  return contour.map((a, i) => {
    const b = contour[(i + 1) % contour.length]!;
    return a.y < b.y ? { low: a, high: b } : { low: b, high: a };
  });
}

function distinctHeights(edges: readonly SlicedEdge[]): number[] {
  const sorted = edges.flatMap(({ low, high }) => [low.y, high.y]).sort((a, b) => a - b);
  const kept: number[] = [];
  for (const y of sorted) if (kept.length === 0 || y - kept.at(-1)! > thin) kept.push(y);
  return kept;
}

/** The trapeziums of the slab from foot to head: the sides that cross it, from left to right, two by two. */
function chordsOf(edges: readonly SlicedEdge[], foot: number, head: number): number[] {
  const middle = (foot + head) / 2;
  const crossing = edges.filter(({ low, high }) => low.y < middle && middle <= high.y);
  const walls = crossing
    .map((edge) => ({ foot: xAt(edge, foot), head: xAt(edge, head) }))
    .sort((a, b) => a.foot + a.head - b.foot - b.head);
  return walls.flatMap((wall) => [wall.foot, (wall.head - wall.foot) / (head - foot)]);
}

function xAt({ low, high }: SlicedEdge, y: number): number {
  // Kept between its ends: a side that is nearly level would otherwise give a point far beyond them.
  const t = Math.min(1, Math.max(0, (y - low.y) / (high.y - low.y)));
  return low.x + (high.x - low.x) * t;
}

/**
 * The shifts dx at which `moving`, moved by (dx, dy), would overlap `fixed`. Shapes that only touch do
 * not overlap.
 *
 * Exact: two slabs that meet in height share a band. In it all sides of trapeziums are straight, so the
 * shifts that a pair of trapeziums forbids lie between extremes that are reached at the band's foot or
 * head. f and m run up the slabs of the two shapes side by side. It is one long loop on purpose, without
 * calls: the first layout spends most of its time here.
 */
export function forbiddenShifts(fixed: Slices, moving: Slices, dy: number): Intervals {
  const { heights: heightsF, first: firstF, chords: chordsF } = fixed;
  const { heights: heightsM, first: firstM, chords: chordsM } = moving;
  const found: number[] = [];
  // Intervals of neighbouring slabs mostly overlap. They are joined at once, so that few are left to sort.
  let low = Infinity;
  let high = -Infinity;
  let f = 0;
  let m = 0;
  while (f + 1 < heightsF.length && m + 1 < heightsM.length) {
    const topF = heightsF[f + 1]!;
    const topM = heightsM[m + 1]! + dy;
    const footF = heightsF[f]!;
    const footM = heightsM[m]! + dy;
    const foot = footF > footM ? footF : footM;
    const head = topF < topM ? topF : topM;
    if (head - foot > thin) {
      for (let i = firstF[f]!; i < firstF[f + 1]!; i++) {
        const leftRunF = chordsF[4 * i + 1]!;
        const rightRunF = chordsF[4 * i + 3]!;
        const leftAtFoot = chordsF[4 * i]! + leftRunF * (foot - footF);
        const rightAtFoot = chordsF[4 * i + 2]! + rightRunF * (foot - footF);
        const leftAtHead = chordsF[4 * i]! + leftRunF * (head - footF);
        const rightAtHead = chordsF[4 * i + 2]! + rightRunF * (head - footF);
        for (let j = firstM[m]!; j < firstM[m + 1]!; j++) {
          const leftM = chordsM[4 * j]!;
          const leftRunM = chordsM[4 * j + 1]!;
          const rightM = chordsM[4 * j + 2]!;
          const rightRunM = chordsM[4 * j + 3]!;
          const lowAtFoot = leftAtFoot - rightM - rightRunM * (foot - footM);
          const lowAtHead = leftAtHead - rightM - rightRunM * (head - footM);
          const highAtFoot = rightAtFoot - leftM - leftRunM * (foot - footM);
          const highAtHead = rightAtHead - leftM - leftRunM * (head - footM);
          const lo = lowAtFoot < lowAtHead ? lowAtFoot : lowAtHead;
          const hi = highAtFoot > highAtHead ? highAtFoot : highAtHead;
          if (lo < high && hi > low) {
            if (lo < low) low = lo;
            if (hi > high) high = hi;
          } else {
            if (high > low) found.push(low, high);
            low = lo;
            high = hi;
          }
        }
      }
    }
    if (topF <= topM) f++;
    if (topM <= topF) m++;
  }
  if (high > low) found.push(low, high);
  return joined(found);
}

/** The same points as rising intervals that do not overlap. */
function joined(intervals: readonly number[]): Intervals {
  if (intervals.length <= 2) return intervals;
  const pairs: [number, number][] = [];
  for (let i = 0; i < intervals.length; i += 2) pairs.push([intervals[i]!, intervals[i + 1]!]);
  pairs.sort((a, b) => a[0] - b[0]);
  const result: number[] = [];
  for (const [low, high] of pairs) {
    const last = result.length - 1;
    if (last > 0 && low < result[last]!) result[last] = Math.max(result[last]!, high);
    else result.push(low, high);
  }
  return result;
}
