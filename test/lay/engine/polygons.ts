import fc from 'fast-check';
import polygonClipping from 'polygon-clipping';
import { orient2d } from 'robust-predicates';
import { flatten } from '../../../src/geometry/paths/flatten.ts';
import type { Kind } from '../../../src/lay/engine/instance.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
import { rounded } from '../../../src/base/numbers.ts';
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
  const own = (ring: Pairs): number => Math.abs(areaWithin(ring));
  return shape.reduce(
    (sum, [outer, ...holes]) => sum + own(outer!) - holes.reduce((all, h) => all + own(h), 0),
    0,
  );
}

/** Signed; from its first corner, so that nothing is lost where a ring lies far away. */
function areaWithin(ring: Pairs): number {
  const [ox, oy] = ring[0]!;
  return ring.reduce((sum, [x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length]!;
    return sum + ((x - ox) * (ny - oy) - (nx - ox) * (y - oy)) / 2;
  }, 0);
}

export function commonArea(a: Pairs[], b: Pairs[]): number {
  return areaOf(polygonClipping.intersection(a, b));
}

/** A square hole near the middle of a frame of 400 x 300. */
export const frame: readonly Ring[] = [
  [0, 0, 400, 0, 400, 300, 0, 300],
  [150, 100, 150, 200, 260, 200, 260, 100],
];

/** Says how much of so many rounds of moves is used: asked once a round. */
export function rounds(count: number): () => number {
  let done = 0;
  return () => done++ / count;
}

export function ringArea(ring: Ring): number {
  return areaWithin(pairs(ring));
}

/** How deep a point lies in a ring; negative outside it. */
export function distanceInto(ring: Ring, [x, y]: readonly [number, number]): number {
  const corners = pairs(ring);
  let least = Infinity;
  let inside = false;
  for (const [i, [ax, ay]] of corners.entries()) {
    const [bx, by] = corners[(i + 1) % corners.length]!;
    const [ux, uy] = [bx - ax, by - ay];
    if (ay > y !== by > y && x < ax + (ux * (y - ay)) / uy) inside = !inside;
    // Corners may be written twice.
    const square = ux * ux + uy * uy || 1;
    const t = Math.min(1, Math.max(0, ((x - ax) * ux + (y - ay) * uy) / square));
    least = Math.min(least, Math.hypot(ax + t * ux - x, ay + t * uy - y));
  }
  return inside ? least : -least;
}

/** Whether two sides that do not follow each other meet (exact signs). */
export function crossesItself(ring: Ring): boolean {
  const corners = pairs(ring);
  const n = corners.length;
  const side = (a: Pairs[number], b: Pairs[number], c: Pairs[number]): number =>
    Math.sign(orient2d(...a, ...b, ...c));
  return corners.some((a, i) => {
    const b = corners[(i + 1) % n]!;
    return corners.some((c, j) => {
      if (j <= i + 1 || (i === 0 && j === n - 1)) return false;
      const d = corners[(j + 1) % n]!;
      return side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b);
    });
  });
}

/** Up to `mostKinds` polygons, in the turns that piles allow. */
export function someKinds(demand: fc.Arbitrary<number>, mostKinds: number): fc.Arbitrary<Kind[]> {
  const rotations = fc.constantFrom([0], [0, 180], [0, 90, 180, 270]);
  return fc.array(fc.record({ outline: polygon, rotations, demand }), {
    minLength: 1,
    maxLength: mostKinds,
  });
}
