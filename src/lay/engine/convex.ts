import earcut, { flatten } from 'earcut';
import type { Ring } from './polygon.ts';
import { cornersOf, crossProduct, roundingOf } from './polygon.ts';

/**
 * A polygon with holes, cut into convex pieces, each counter-clockwise. The polygon is cut into triangles
 * (earcut); then triangles are joined over their common sides wherever the result is convex (Hertel and
 * Mehlhorn 1983). How few pieces are left depends on the order of joining: `orders` of them are tried.
 */
export function convexPieces(outer: Ring, holes: readonly Ring[] = [], orders = 40): number[][] {
  const data = flatten([outer, ...holes].map(cornersOf));
  const at = (i: number): [number, number] => [data.vertices[2 * i]!, data.vertices[2 * i + 1]!];
  const triangles = trianglesOf(earcut(data.vertices, data.holes, 2), at);
  const sides = triangles.flatMap((triangle) =>
    triangle.map((a, k): PolygonSide => [a, triangle[(k + 1) % 3]!]),
  );
  let best = joined(triangles, sides, at);
  for (let k = 1; k < orders && best.length > 2; k++) {
    const pieces = joined(triangles, stirred(sides, k), at);
    if (pieces.length < best.length) best = pieces;
  }
  const pieces = best.map((piece) => piece.flatMap(at));
  const known = pieces.map(withoutShortSides).filter((piece) => piece.length >= 6);
  // A hair as thin as the rounding would be gone.
  return known.length > 0 ? known : pieces;
}

/** A side shorter than this share of another has no direction of its own if it seems to run along with it. */
const short = 1e-6;

/**
 * A convex ring without corners that lie on a straight line, up to rounding, and beside a short side. Such a
 * side is only as well known as the last bits of its ends: it would seem to lean, and be a wall where none is.
 */
function withoutShortSides(ring: number[]): number[] {
  const rounding = roundingOf(ring);
  let kept = ring;
  for (let i = 0; i < kept.length && kept.length > 4;) {
    const [ax, ay] = corner(kept, i / 2 + kept.length / 2 - 1);
    const [bx, by] = corner(kept, i / 2);
    const [cx, cy] = corner(kept, i / 2 + 1);
    if (isOneSide(bx - ax, by - ay, cx - bx, cy - by, rounding)) {
      kept = [...kept.slice(0, i), ...kept.slice(i + 2)];
      i = 0;
    } else i += 2;
  }
  return kept;
}

/**
 * Whether two sides in a row, (ux, uy) and (vx, vy), of which one is short, are one side for all that is known
 * of their directions: the corner between them stands out by no more than the rounding.
 */
function isOneSide(ux: number, uy: number, vx: number, vy: number, rounding: number): boolean {
  const u = Math.abs(ux) + Math.abs(uy);
  const v = Math.abs(vx) + Math.abs(vy);
  if (u > short * v && v > short * u) return false;
  return ux * vx + uy * vy >= 0 && Math.abs(ux * vy - uy * vx) <= rounding * Math.max(u, v);
}

/** A directed side, by the indexes of its corners. */
type PolygonSide = readonly [a: number, b: number];

/**
 * The sides in another order for each k, the same every time. Multiples of the golden ratio, taken
 * modulo 1, lie well apart, which makes a good shuffle without chance.
 */
function stirred(sides: readonly PolygonSide[], k: number): PolygonSide[] {
  const rank = (i: number): number => ((i + 1) * (2 * k + 1) * 0.6180339887498949) % 1;
  return sides
    .map((side, i) => ({ side, at: rank(i) }))
    .sort((a, b) => a.at - b.at)
    .map(({ side }) => side);
}

type At = (index: number) => [number, number];

/** Earcut's flat list as triangles, each counter-clockwise; those without area are left out. */
function trianglesOf(indexes: readonly number[], at: At): number[][] {
  const triangles: number[][] = [];
  for (let i = 0; i < indexes.length; i += 3) {
    const [a, b, c] = [indexes[i]!, indexes[i + 1]!, indexes[i + 2]!];
    const turn = crossProduct(...at(a), ...at(b), ...at(c));
    if (turn !== 0) triangles.push(turn > 0 ? [a, b, c] : [a, c, b]);
  }
  return triangles;
}

/** Goes through the sides in their order and joins the two pieces beside each, if the result is convex. */
function joined(triangles: readonly number[][], sides: readonly PolygonSide[], at: At): number[][] {
  const pieces: (number[] | null)[] = [...triangles];
  // The piece to the left of each directed side. Keys are numbers: texts took a tenth of all the time of `prepared`.
  const owner = new Map<number, number>();
  const keyOf = (a: number, b: number): number => a * 2 ** 26 + b;
  const own = (piece: readonly number[], id: number): void => {
    for (const [k, a] of piece.entries()) owner.set(keyOf(a, piece[(k + 1) % piece.length]!), id);
  };
  for (const [id, piece] of triangles.entries()) own(piece, id);
  for (const [a, b] of sides) {
    const left = owner.get(keyOf(a, b));
    const right = owner.get(keyOf(b, a));
    if (left === undefined || right === undefined || left === right) continue;
    const both = joinedOver(pieces[left]!, pieces[right]!, a, b, at);
    if (both === null) continue;
    pieces[left] = both;
    pieces[right] = null;
    owner.delete(keyOf(a, b));
    owner.delete(keyOf(b, a));
    own(both, left);
  }
  return pieces.filter((piece) => piece !== null);
}

/** Two pieces as one, joined over their common side, which runs from a to b in the first. Null: not convex. */
function joinedOver(
  first: readonly number[],
  second: readonly number[],
  a: number,
  b: number,
  at: At,
): number[] | null {
  const fromB = [...first.slice(first.indexOf(b)), ...first.slice(0, first.indexOf(b))];
  const fromA = [...second.slice(second.indexOf(a)), ...second.slice(0, second.indexOf(a))];
  // Round the first from b to a, then round the second from a to b.
  const both = [...fromB, ...fromA.slice(1, -1)];
  const n = both.length;
  const isConvexAt = (i: number): boolean =>
    crossProduct(...at(both[(i + n - 1) % n]!), ...at(both[i]!), ...at(both[(i + 1) % n]!)) >= 0;
  return isConvexAt(0) && isConvexAt(both.indexOf(a)) ? both : null;
}

/**
 * All offsets of `moving` at which it overlaps `fixed`, as a convex polygon: their Minkowski difference,
 * which is the Minkowski sum of `fixed` and `moving` turned by half about the origin. The sum of two
 * convex polygons has the sides of both, sorted by direction: two pointers go round, each time along the
 * side that turns less.
 */
export function convexDifference(fixed: Ring, moving: Ring): number[] {
  const mirrored = moving.map((value) => -value);
  const a = fromLowest(fixed);
  const b = fromLowest(mirrored);
  const n = a.length / 2;
  const m = b.length / 2;
  const rounding = roundingOf(a) + roundingOf(b);
  const sum: number[] = [];
  let i = 0;
  let j = 0;
  while (i < n || j < m) {
    const [ax, ay] = corner(a, i);
    const [bx, by] = corner(b, j);
    sum.push(ax + bx, ay + by);
    const [aNextX, aNextY] = corner(a, i + 1);
    const [bNextX, bNextY] = corner(b, j + 1);
    const [ux, uy, vx, vy] = [aNextX - ax, aNextY - ay, bNextX - bx, bNextY - by];
    const turn = isOneSide(ux, uy, vx, vy, rounding) ? 0 : ux * vy - uy * vx;
    if (j >= m || (i < n && turn > 0)) i++;
    else if (i >= n || turn < 0) j++;
    else {
      i++;
      j++;
    }
  }
  return sum;
}

function corner(ring: Ring, i: number): [number, number] {
  const k = (2 * i) % ring.length;
  return [ring[k]!, ring[k + 1]!];
}

/** A ring begun at its lowest corner; at the leftmost of them, if there are several. */
function fromLowest(ring: Ring): number[] {
  let best = 0;
  for (let i = 2; i < ring.length; i += 2) {
    const lower = ring[i + 1]! - ring[best + 1]!;
    if (lower < 0 || (lower === 0 && ring[i]! < ring[best]!)) best = i;
  }
  return [...ring.slice(best), ...ring.slice(0, best)];
}
