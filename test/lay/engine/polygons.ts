import fc from 'fast-check';
import polygonClipping from 'polygon-clipping';
import { flatten } from '../../../src/geometry/flatten.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
import { rounded } from '../../../src/numbers.ts';
import { outline } from '../../geometry/arbitrary.ts';

/** Simple counter-clockwise polygons about the origin, of 5 to some 20 corners, 400 to 800 across. */
export const polygon: fc.Arbitrary<number[]> = outline.map((path) => {
  const points = flatten(path, 8).map(({ x, y }) => [Math.round(x), Math.round(y)] as const);
  const [cx, cy] = points[0]!;
  return points.flatMap(([x, y]) => [x - cx, y - cy]);
});

type Pairs = [number, number][];

export function pairs(ring: Ring): Pairs {
  return Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i]!, ring[2 * i + 1]!]);
}

/** A ring with the holes in it, as polygon-clipping takes it: a judge that shares no code with the engine. */
export function judged(rings: readonly Ring[], dx = 0, dy = 0): Pairs[] {
  // On a grid: the library fails on sides that lean by no more than the last bits of their ends.
  return rings.map((ring) =>
    pairs(ring).map(([x, y]): [number, number] => [rounded(x + dx, 6), rounded(y + dy, 6)]),
  );
}

function areaOf(shape: readonly Pairs[][]): number {
  const ringArea = (ring: Pairs): number =>
    ring.reduce((sum, [x, y], i) => {
      const [nx, ny] = ring[(i + 1) % ring.length]!;
      return sum + (x * ny - nx * y) / 2;
    }, 0);
  return shape.reduce(
    (sum, [outer, ...holes]) =>
      sum + Math.abs(ringArea(outer!)) - holes.reduce((all, h) => all + Math.abs(ringArea(h)), 0),
    0,
  );
}

export function commonArea(a: Pairs[], b: Pairs[]): number {
  return areaOf(polygonClipping.intersection(a, b));
}

/** Of what lies in a and not in b. */
export function restArea(a: Pairs[], b: Pairs[]): number {
  return areaOf(polygonClipping.difference(a, b));
}
