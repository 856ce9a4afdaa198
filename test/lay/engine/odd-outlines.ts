/** Outlines as they come: the same shapes as in outlines.ts, written carelessly. */
import fc from 'fast-check';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
import type { Contours } from './outlines.ts';
import { anyOutline, radii, round } from './outlines.ts';
import { pairs } from './polygons.ts';

type Point = [number, number];

const real = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true });

/** How far off something may be: the last bits, less than any slack, about a slack, and more than it. */
const offs = fc.constantFrom(0, 1e-13, 1e-10, 1e-7, 2e-6, 1e-5, 1e-3);

/** A share of the way round a ring, and what happens there. */
interface Spot {
  readonly at: number;
  readonly off: number;
  readonly dx: number;
  readonly dy: number;
}

const spots = fc.array(
  fc.record({ at: real(0, 0.999), off: offs, dx: real(-1, 1), dy: real(-1, 1) }),
  { minLength: 1, maxLength: 8 },
);

/** The ring with more corners on some of its sides: `extra` says which, for a spot and the ends of its side. */
function withCorners(
  ring: Ring,
  some: readonly Spot[],
  extra: (spot: Spot, from: Point, to: Point) => Point[],
): number[] {
  const corners = pairs(ring);
  const n = corners.length;
  const sideOf = ({ at }: Spot): number => Math.floor(at * n);
  return corners.flatMap((from, i) => {
    const own = some.find((spot) => sideOf(spot) === i);
    return [from, ...(own === undefined ? [] : extra(own, from, corners[(i + 1) % n]!))].flat();
  });
}

function onSide([ax, ay]: Point, [bx, by]: Point, t: number): Point {
  return [ax + (bx - ax) * t, ay + (by - ay) * t];
}

function aside([x, y]: Point, { off, dx, dy }: Spot): Point {
  return [x + off * dx, y + off * dy];
}

/** How far along its side of a ring of n corners a spot lies. */
function along({ at }: Spot, n: number): number {
  return at * n - Math.floor(at * n);
}

/** A corner followed by another in nearly the same place, nearer than needles are thick, and the first once more or not. */
const nearRepeats = fc
  .tuple(
    anyOutline,
    spots.map((some) => some.map((spot) => ({ ...spot, off: Math.min(spot.off, 1e-5) }))),
    fc.boolean(),
  )
  .map(([ring, some, again]) =>
    withCorners(ring, some, (spot, from) =>
      again ? [aside(from, spot), from] : [aside(from, spot)],
    ),
  );

/** Corners on straight sides, or all but on them. */
const runs = fc
  .tuple(anyOutline, spots, fc.integer({ min: 1, max: 30 }))
  .map(([ring, some, count]) =>
    withCorners(ring, some, (spot, from, to) =>
      Array.from({ length: count }, (_, k) =>
        // To and fro: every other one lies on the other side of the line.
        aside(onSide(from, to, (k + 1) / (count + 1)), {
          ...spot,
          off: spot.off * (k % 2 === 0 ? 1 : -1),
        }),
      ),
    ),
  );

/** Teeth on sides, to either side of them. */
const teeth = fc.tuple(anyOutline, spots, offs).map(([ring, some, wide]) => {
  const n = ring.length / 2;
  return withCorners(ring, some, (spot, from, to) => {
    const t = along(spot, n);
    const size = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const [a, b] = [onSide(from, to, t), onSide(from, to, Math.min(1, t + wide / size))];
    return [a, aside(a, spot), aside(b, spot), b];
  });
});

/** The way goes back on a side, and on again. */
const backwards = fc.tuple(anyOutline, spots).map(([ring, some]) => {
  const n = ring.length / 2;
  return withCorners(ring, some, (spot, from, to) => {
    const t = along(spot, n);
    return [onSide(from, to, 0.5 + t / 2), onSide(from, to, 0.2 + t / 4)];
  });
});

const star = radii.map((some) => round(some));

/** Slots (a reach below 1) and spikes (above it) without width, towards or away from a middle that all sides see. */
const slits = fc
  .tuple(star, fc.array(fc.tuple(real(0, 0.999), real(0.2, 1.2)), { minLength: 1, maxLength: 3 }))
  .map(([ring, some]) => {
    const n = ring.length / 2;
    const reaches = new Map(some.map(([at, reach]) => [Math.floor(at * n), { at, reach }]));
    return pairs(ring).flatMap((from, i, corners) => {
      const slit = reaches.get(i);
      if (slit === undefined) return from;
      const [x, y] = onSide(from, corners[(i + 1) % n]!, slit.at * n - i);
      return [...from, x, y, x * slit.reach, y * slit.reach, x, y];
    });
  });

/** A hole that is drawn as part of the outline: in along a line, round, and out along the same line. */
const keyholes = fc.tuple(radii, real(0.2, 0.8)).map(([some, scale]) => {
  const outer = pairs(round(some));
  const inner = pairs(round(some, scale));
  const back = [inner[0]!, ...inner.slice(1).toReversed(), inner[0]!];
  return [...outer, outer[0]!, ...back].flat();
});

/** The first corner written again at the end, and corners written twice. */
const repeats = anyOutline.map((ring) => [
  ...ring.slice(0, 2),
  ...ring,
  ...ring.slice(-2),
  ...ring.slice(0, 2),
]);

/** No thicker than what the engine takes for nothing, or little more. */
const hairs = fc
  .tuple(real(20, 400), fc.constantFrom(1e-9, 1e-7, 5e-6, 1e-4), real(0, 1), real(0, 6.3))
  .map(([long, thin, blunt, by]) => {
    const [cos, sin] = [Math.cos(by), Math.sin(by)];
    const corners: Point[] = [
      [0, 0],
      [long, 0],
      [long, thin * blunt],
      [0, thin],
    ];
    return corners.flatMap(([x, y]) => [x * cos - y * sin, x * sin + y * cos]);
  });

/** Outlines that mean something, however they are written. */
export const oddOutline: fc.Arbitrary<number[]> = fc.oneof(
  nearRepeats,
  runs,
  teeth,
  backwards,
  slits,
  keyholes,
  repeats,
  hairs,
);

function scaledAbout(ring: Ring, [ox, oy]: Point, scale: number): Point[] {
  return pairs(ring).map(([x, y]): Point => [ox + (x - ox) * scale, oy + (y - oy) * scale]);
}

/** A hole with repeated corners; a tiny one; one that touches the outline at a corner, or along two sides. */
const oddHoles: fc.Arbitrary<Contours> = fc
  .tuple(radii, fc.constantFrom('repeats', 'tiny', 'corner', 'sides', 'line'), real(0.3, 0.8), offs)
  .map(([some, kind, scale, off]) => {
    // A hole that shares sides with a concave outline could cross it elsewhere.
    const outline = round(kind === 'sides' ? some.map(() => some[0]!) : some);
    const corners = pairs(outline);
    const hole = ((): Point[] => {
      const within = scaledAbout(outline, [0, 0], scale);
      switch (kind) {
        case 'tiny':
          return scaledAbout(outline, [0, 0], off);
        case 'corner':
          return [corners[0]!, within[1]!, [0, 0], within.at(-1)!];
        case 'sides':
          return scaledAbout(outline, corners[0]!, scale);
        case 'line':
          return [corners[0]!, within[0]!, corners[0]!];
        default:
          return within.flatMap(([x, y]): Point[] => [
            [x, y],
            [x + off, y],
            [x, y],
          ]);
      }
    })();
    return { outline, holes: [hole.toReversed().flat()] };
  });

/** The same, and shapes with holes that are written as carelessly. */
export const oddContours: fc.Arbitrary<Contours> = fc.oneof(
  { weight: 5, arbitrary: oddOutline.map((outline): Contours => ({ outline, holes: [] })) },
  { weight: 1, arbitrary: oddHoles },
);
