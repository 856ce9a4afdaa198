import fc from 'fast-check';
import { pairs } from './polygons.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';

const real = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true });

const deg = real(0, 360);

/** Offsets of a million: the origin of an outline far away from it. */
export const far: fc.Arbitrary<readonly [number, number]> = fc.constantFrom<
  (readonly [number, number])[]
>([1e6, 0], [-1e6, 1e6], [987_654.321, -1_000_000.7]);

export function round(radii: readonly number[], scale = 1): number[] {
  return radii.flatMap((radius, i) => {
    const turn = (2 * Math.PI * i) / radii.length;
    return [scale * radius * Math.cos(turn), scale * radius * Math.sin(turn)];
  });
}

function turnedBy(ring: Ring, by: number): number[] {
  const [cos, sin] = [Math.cos((by * Math.PI) / 180), Math.sin((by * Math.PI) / 180)];
  return pairs(ring).flatMap(([x, y]) => [x * cos - y * sin, x * sin + y * cos]);
}

export const radii = fc.array(real(40, 200), { minLength: 5, maxLength: 14 });

/** Concave more often than not: corners at growing angles round a middle that they all see. */
const star = radii.map((some) => round(some));

/** Corners on an ellipse. */
const convex = fc
  .tuple(fc.integer({ min: 3, max: 12 }), real(20, 200), real(20, 200), deg)
  .map(([n, a, b, by]) => {
    const ring = round(Array.from({ length: n }, () => 1));
    return turnedBy(
      ring.map((value, i) => value * (i % 2 === 0 ? a : b)),
      by,
    );
  });

/** As thin as a thousandth, of 20 to 400. */
const needle = fc
  .tuple(real(20, 400), fc.constantFrom(1e-3, 0.02, 0.5), real(0, 1), deg)
  .map(([long, thin, at, by]) => turnedBy([0, 0, long, 0, at * long, thin], by));

/** An oblong with teeth on top: bays in which others may lie. */
const comb = fc
  .tuple(fc.integer({ min: 1, max: 5 }), real(5, 40), real(5, 40), real(10, 150), deg)
  .map(([teeth, tooth, bay, depth, by]) => {
    const ring: number[] = [0, 0, teeth * (tooth + bay) + tooth, 0];
    for (let k = teeth; k >= 0; k--) {
      const left = k * (tooth + bay);
      ring.push(left + tooth, 20 + depth, left, 20 + depth);
      if (k > 0) ring.push(left, 20, left - bay, 20);
    }
    return turnedBy(ring, by);
  });

/** A slot whose one side has a shallow notch, into which a tooth of the other side reaches: to bridge the notch would cut the tooth. */
const clasp = fc
  .tuple(real(200, 350), real(0, 1), real(1, 60), real(0.1, 0.8), deg)
  .map(([wide, at, notch, reached, by]) => {
    const middle = 90 + at * (wide - 130);
    const tip = 90 - notch * reached;
    const lower = [middle + 20, 90, middle, 90 - notch, middle - 20, 90, 50, 90];
    const upper = [50, 110, middle - 5, 110, middle - 1, tip, middle + 1, tip, middle + 5, 110];
    const ring = [0, 0, wide, 0, wide, 90, ...lower, ...upper, wide, 110, wide, 200, 0, 200];
    return turnedBy(ring, by);
  });

/** Every corner cut off by a side of about a thousandth. */
function chamfered(ring: Ring): number[] {
  const corners = pairs(ring);
  return corners.flatMap(([x, y], i) => {
    const towards = (j: number): number[] => {
      const [ox, oy] = corners[(j + corners.length) % corners.length]!;
      const length = Math.hypot(ox - x, oy - y);
      return [x + (1e-3 * (ox - x)) / length, y + (1e-3 * (oy - y)) / length];
    };
    return [...towards(i - 1), ...towards(i + 1)];
  });
}

const tinySides = fc.oneof(star, convex).map(chamfered);

/** Simple counter-clockwise outlines no larger than 450 each way, near their origin. */
export const anyOutline: fc.Arbitrary<number[]> = fc.oneof(
  star,
  convex,
  needle,
  comb,
  clasp,
  tinySides,
);

export interface Contours {
  readonly outline: Ring;
  readonly holes: readonly Ring[];
}

/** A star with another, smaller one as a hole in it. */
const holed: fc.Arbitrary<Contours> = fc.tuple(radii, real(0.3, 0.8)).map(([some, scale]) => ({
  outline: round(some),
  // Clockwise.
  holes: [pairs(round(some, scale)).toReversed().flat()],
}));

/** Of all sorts, their origin near or a million away. */
export const contours: fc.Arbitrary<Contours> = fc
  .tuple(
    fc.oneof(
      { weight: 4, arbitrary: anyOutline.map((outline): Contours => ({ outline, holes: [] })) },
      { weight: 1, arbitrary: holed },
    ),
    fc.oneof({ weight: 3, arbitrary: fc.constant([0, 0] as const) }, { weight: 1, arbitrary: far }),
  )
  .map(([{ outline, holes }, [dx, dy]]) => {
    const move = (ring: Ring): number[] => ring.map((value, i) => value + (i % 2 === 0 ? dx : dy));
    return { outline: move(outline), holes: holes.map(move) };
  });
