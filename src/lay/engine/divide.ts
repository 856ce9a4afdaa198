import { convexPieces } from './convex.ts';
import type { Ring } from './polygon.ts';
import { diagonalOf, perimeterOf, twiceArea } from './polygon.ts';
import type { SoundContours } from './sound.ts';
import { crossingShare } from './sound.ts';

/** A shape, and the convex pieces that make it up. */
export interface DividedShape extends SoundContours {
  readonly pieces: readonly Ring[];
}

/**
 * Divides a shape into convex pieces; `orders`: see convexPieces. Where holes touch each other or the
 * outline, the pieces may be wrong. The holes are then made smaller by up to `by` all round, and if that
 * does not help they count as material. Throws RangeError if the outline itself cannot be divided, since it
 * crosses itself.
 */
export function dividedShape(given: SoundContours, orders: number, by: number): DividedShape {
  const smaller = (): Ring[] => given.holes.map((hole) => retracted(hole, by));
  for (const holes of [() => given.holes, smaller, () => []]) {
    const shape = { ...given, holes: holes() };
    const pieces = convexPieces(shape.outline, shape.holes, orders);
    if (makeUp(pieces, shape)) return { ...shape, pieces };
  }
  throw new RangeError(`${given.name}: its outline crosses itself`);
}

/** Whether pieces have the area of a shape, as far as its contours are known. */
function makeUp(pieces: readonly Ring[], { outline, holes }: SoundContours): boolean {
  const rings = [outline, ...holes];
  const sumOf = (all: readonly Ring[], value: (ring: Ring) => number): number =>
    all.reduce((sum, ring) => sum + value(ring), 0);
  const unknown = crossingShare * diagonalOf(outline) * sumOf(rings, perimeterOf);
  const missing = Math.abs(sumOf(pieces, twiceArea) - sumOf(rings, twiceArea));
  return pieces.length > 0 && missing <= unknown;
}

/** A clockwise ring with each corner moved inwards by `by`, halfway between its two sides. */
function retracted(ring: Ring, by: number): number[] {
  const n = ring.length;
  const moved: number[] = [];
  for (let i = 0; i < n; i += 2) {
    const before = inwards(ring, (i + n - 2) % n, i);
    const after = inwards(ring, i, (i + 2) % n);
    const [x, y] = [before[0] + after[0], before[1] + after[1]];
    const share = by / (Math.hypot(x, y) || 1);
    moved.push(ring[i]! + share * x, ring[i + 1]! + share * y);
  }
  return moved;
}

/** The unit vector to the right of the side from corner i to corner j. */
function inwards(ring: Ring, i: number, j: number): [x: number, y: number] {
  const dx = ring[j]! - ring[i]!;
  const dy = ring[j + 1]! - ring[i + 1]!;
  const length = Math.hypot(dx, dy);
  return length === 0 ? [0, 0] : [dy / length, -dx / length];
}
