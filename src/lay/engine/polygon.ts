import type { Box } from '../../geometry/paths/box.ts';
import { heightOf, widthOf } from '../../geometry/paths/box.ts';

/**
 * Flat polygons: [x0, y0, x1, y1, ...], the first corner not repeated. Outer contours run
 * counter-clockwise, holes clockwise. Lengths in whatever unit the instance is in.
 */
export type Ring = readonly number[];

/** The corners of a ring as pairs. */
export function cornersOf(ring: Ring): [x: number, y: number][] {
  return Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i]!, ring[2 * i + 1]!]);
}

/** The area of an outline less that of its holes. */
export function areaWithout(outer: Ring, holes: readonly Ring[]): number {
  return holes.reduce((left, hole) => left - Math.abs(twiceArea(hole)), twiceArea(outer)) / 2;
}

/** Twice the signed area: positive if the ring runs counter-clockwise (shoelace formula). */
export function twiceArea(ring: Ring): number {
  let sum = 0;
  const n = ring.length;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    sum += ring[j]! * ring[i + 1]! - ring[i]! * ring[j + 1]!;
  }
  return sum;
}

/** The signed area, reckoned from the first corner: of a small shape far from its origin little else would be left. */
export function ringArea(ring: Ring): number {
  const [ox, oy] = [ring[0]!, ring[1]!];
  return twiceArea(ring.map((value, i) => value - (i % 2 === 0 ? ox : oy))) / 2;
}

/** The length of all sides of a ring. */
export function perimeterOf(ring: Ring): number {
  const n = ring.length;
  let sum = 0;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    sum += Math.hypot(ring[i]! - ring[j]!, ring[i + 1]! - ring[j + 1]!);
  }
  return sum;
}

/** The upright box around a ring. */
export function boxOf(ring: Ring): Box {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (let i = 0; i < ring.length; i += 2) {
    minX = Math.min(minX, ring[i]!);
    maxX = Math.max(maxX, ring[i]!);
    minY = Math.min(minY, ring[i + 1]!);
    maxY = Math.max(maxY, ring[i + 1]!);
  }
  return { minX, minY, maxX, maxY };
}

/** The diagonal of that box: how large a ring is. */
export function diagonalOf(ring: Ring): number {
  const box = boxOf(ring);
  return Math.hypot(widthOf(box), heightOf(box));
}

/** The ring turned counter-clockwise about the origin by degrees; exact at quarter turns. */
export function turned(ring: Ring, deg: number): number[] {
  const [cos, sin] = cosSin(deg);
  const out: number[] = [];
  for (let i = 0; i < ring.length; i += 2) {
    const x = ring[i]!;
    const y = ring[i + 1]!;
    out.push(x * cos - y * sin, x * sin + y * cos);
  }
  return out;
}

function cosSin(deg: number): [number, number] {
  const turn = ((deg % 360) + 360) % 360;
  switch (turn) {
    case 0:
      return [1, 0];
    case 90:
      return [0, 1];
    case 180:
      return [-1, 0];
    case 270:
      return [0, -1];
    default:
      return [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  }
}

/** Twice the signed area of the triangle a, b, c: positive if c lies to the left of the line from a to b. */
export function crossProduct(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
): number {
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

/** The convex hull, counter-clockwise, without corners on its sides (Andrew's monotone chain). */
export function hullOf(ring: Ring): number[] {
  const points = cornersOf(ring).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (sorted: [number, number][]): [number, number][] => {
    const chain: [number, number][] = [];
    for (const p of sorted) {
      while (chain.length > 1) {
        const [a, b] = [chain.at(-2)!, chain.at(-1)!];
        if (crossProduct(a[0], a[1], b[0], b[1], p[0], p[1]) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    chain.pop();
    return chain;
  };
  return [...half(points), ...half(points.toReversed())].flat();
}

/**
 * How deep a point lies in what an odd number of rings enclose: its distance to the nearest side, negative
 * outside. Inside: a ray to the right crosses an odd number of sides.
 */
export function depthIn(rings: readonly Ring[], x: number, y: number): number {
  let least = Infinity;
  let inside = false;
  for (const ring of rings) {
    const n = ring.length;
    for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
      const ax = ring[j]!;
      const ay = ring[j + 1]!;
      const bx = ring[i]!;
      const by = ring[i + 1]!;
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
      least = Math.min(least, squareToSide(x, y, ax, ay, bx, by));
    }
  }
  return inside ? Math.sqrt(least) : -Math.sqrt(least);
}

/** The distance of (x, y) from the side a to b. */
export function distanceToSide(
  x: number,
  y: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number {
  return Math.sqrt(squareToSide(x, y, ax, ay, bx, by));
}

function squareToSide(
  x: number,
  y: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number {
  const ux = bx - ax;
  const uy = by - ay;
  const square = ux * ux + uy * uy;
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * ux + (y - ay) * uy) / square));
  return (ax + ux * t - x) ** 2 + (ay + uy * t - y) ** 2;
}

/** What sums and turns of a ring's coordinates may be off: some of their last bits. */
export function roundingOf(ring: Ring): number {
  return 16 * Number.EPSILON * ring.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}
