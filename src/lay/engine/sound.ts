/**
 * Contours as they come from drawings and files, made sound: what is written twice is left out, and what makes
 * no sense is refused in plain words.
 */
import type { Ring } from './polygon.ts';
import {
  cornersOf,
  crossProduct,
  depthIn,
  diagonalOf,
  distanceToSide,
  ringArea,
} from './polygon.ts';

/** An outline, counter-clockwise, and what is cut out of it, each clockwise. */
export interface SoundContours {
  /** What messages call the shape. */
  readonly name: string;
  readonly outline: Ring;
  readonly holes: readonly Ring[];
}

/**
 * Contours that cross by less than this share of their size are taken as they are: they were turned, or grown
 * on a grid.
 */
export const crossingShare = 1e-6;

/**
 * The contours of a shape without repeated corners, and without holes that bound no area. Holes may come
 * either way round. `name` is what messages call the shape. Throws RangeError, with the place in the shape's
 * own frame, if a value is not a number; if the outline has no area or runs clockwise; and if contours cross
 * themselves or each other, or a hole lies outside the outline or in another hole.
 */
export function soundContours(
  name: string,
  { outline, holes = [] }: { readonly outline: Ring; readonly holes?: readonly Ring[] },
): SoundContours {
  for (const ring of [outline, ...holes]) checkValues(name, ring);
  const outer = withoutRepeats(outline);
  if (outer.length < 6) throw new RangeError(`${name} has no area`);
  const inner = holes
    .map(withoutRepeats)
    .filter((hole) => hole.length >= 6 && ringArea(hole) !== 0)
    .map((hole) => (ringArea(hole) < 0 ? hole : cornersOf(hole).reverse().flat()));
  checkCrossings(name, outer, inner, crossingShare * diagonalOf(outer));
  if (!(ringArea(outer) > 0)) throw new RangeError(`${name} has no area, or runs clockwise`);
  return { name, outline: outer, holes: inner };
}

function checkValues(name: string, ring: Ring): void {
  const wrong = ring.findIndex((value) => !Number.isFinite(value));
  if (wrong >= 0) {
    throw new RangeError(`${name} has a number that is none, at corner ${(wrong >> 1) + 1}`);
  }
  if (ring.length % 2 === 1) throw new RangeError(`${name} has a corner with one number only`);
}

/** A ring without corners that are the same as the one before, all around. */
function withoutRepeats(ring: Ring): number[] {
  const n = ring.length;
  return ring.filter((_, i) => {
    const k = i - (i % 2);
    const before = (k + n - 2) % n;
    return ring[k] !== ring[before] || ring[k + 1] !== ring[before + 1];
  });
}

function checkCrossings(name: string, outline: Ring, holes: readonly Ring[], most: number): void {
  const crossing = crossingIn([outline, ...holes], most);
  if (crossing !== null) {
    const [ring, other, at] = crossing;
    const what =
      ring !== other
        ? 'two contours of it cross'
        : ring === 0
          ? 'its outline crosses itself'
          : 'a hole in it crosses itself';
    throw new RangeError(`${name}: ${what} at (${at.join(', ')})`);
  }
  for (const [k, hole] of holes.entries()) {
    const others = holes.filter((_, other) => other !== k);
    for (const [x, y] of cornersOf(hole)) {
      if (depthIn([outline], x, y) < -most) {
        throw new RangeError(`${name}: a hole lies outside its outline at (${x}, ${y})`);
      }
      if (others.some((other) => depthIn([other], x, y) > most)) {
        throw new RangeError(`${name}: a hole lies in another at (${x}, ${y})`);
      }
    }
  }
}

/** A side of a ring, by the number of the ring and its ends. */
interface RingSide {
  readonly ring: number;
  readonly from: readonly [x: number, y: number];
  readonly to: readonly [x: number, y: number];
  readonly minX: number;
  readonly maxX: number;
}

type RingCrossing = readonly [ring: number, other: number, at: readonly [number, number]];

/** Where two sides cross so that each ends more than `most` away from the other; null: nowhere. */
function crossingIn(rings: readonly Ring[], most: number): RingCrossing | null {
  const sides = rings.flatMap(sidesOf).sort((a, b) => a.minX - b.minX);
  for (const [i, a] of sides.entries()) {
    for (let k = i + 1; k < sides.length && sides[k]!.minX < a.maxX; k++) {
      const b = sides[k]!;
      if (crosses(a, b) && endsApart(a, b) > most) return [a.ring, b.ring, placeOf(a, b)];
    }
  }
  return null;
}

function sidesOf(ring: Ring, number: number): RingSide[] {
  const corners = cornersOf(ring);
  return corners.map((from, i) => {
    const to = corners[(i + 1) % corners.length]!;
    return {
      ring: number,
      from,
      to,
      minX: Math.min(from[0], to[0]),
      maxX: Math.max(from[0], to[0]),
    };
  });
}

function crosses(a: RingSide, b: RingSide): boolean {
  const [top, bottom] = [Math.max(a.from[1], a.to[1]), Math.min(a.from[1], a.to[1])];
  if ((b.from[1] > top && b.to[1] > top) || (b.from[1] < bottom && b.to[1] < bottom)) return false;
  const side = (of: RingSide, p: RingSide['from']): number =>
    crossProduct(...of.from, ...of.to, ...p);
  return side(a, b.from) * side(a, b.to) < 0 && side(b, a.from) * side(b, a.to) < 0;
}

/** The least distance of an end of either side from the other. */
function endsApart(a: RingSide, b: RingSide): number {
  return Math.min(
    distanceToSide(...a.from, ...b.from, ...b.to),
    distanceToSide(...a.to, ...b.from, ...b.to),
    distanceToSide(...b.from, ...a.from, ...a.to),
    distanceToSide(...b.to, ...a.from, ...a.to),
  );
}

/** Where two sides cross, to six digits. */
function placeOf(a: RingSide, b: RingSide): [x: number, y: number] {
  const from = crossProduct(...b.from, ...b.to, ...a.from);
  const to = crossProduct(...b.from, ...b.to, ...a.to);
  const t = from / (from - to);
  const between = (k: 0 | 1): number =>
    Number((a.from[k] + (a.to[k] - a.from[k]) * t).toPrecision(6));
  return [between(0), between(1)];
}
