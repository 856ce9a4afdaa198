import type { Box } from '../../geometry/paths/box.ts';

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
