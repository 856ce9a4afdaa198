import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circlesIn } from '../../../src/lay/engine/circles.ts';
import { convexPieces } from '../../../src/lay/engine/convex.ts';
import type { Shape } from '../../../src/lay/engine/pair.ts';
import { pairTables } from '../../../src/lay/engine/pair-tables.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
import { hullOf, turned, twiceArea } from '../../../src/lay/engine/polygon.ts';
import { seededRandom } from '../../../src/lay/engine/random.ts';
import { commonArea, frame, judged, pairs, polygon } from './polygons.ts';

function shapeOf(rings: readonly Ring[]): Shape {
  const [outer, ...holes] = rings;
  const size = Math.sqrt(twiceArea(hullOf(outer!)) / 2);
  const [pieces, circles] = [convexPieces(outer!, holes), circlesIn(outer!, holes)];
  return { pieces: () => pieces, circles: () => circles, size };
}

function tablesOf(...shapes: readonly (readonly Ring[])[]): ReturnType<typeof pairTables> {
  return pairTables(shapes.map(shapeOf), 1e-6);
}

/** Where the second of two shapes is asked for: anywhere, or with a corner on a side of the first, or a little aside. */
interface Question {
  readonly a: number;
  readonly b: number;
  readonly x: number;
  readonly y: number;
  /** Which corner and which side; null for anywhere. */
  readonly touching: readonly [number, number, number] | null;
}

function offsetOf({ a, b, x, y, touching }: Question, shapes: readonly (readonly Ring[])[]) {
  if (touching === null) return [x, y] as const;
  const [of, at, along] = touching;
  const [corners, sides] = [pairs(shapes[b]!.flat()), pairs(shapes[a]![0]!)];
  const [cx, cy] = corners[of % corners.length]!;
  const [px, py] = sides[at % sides.length]!;
  const [qx, qy] = sides[(at + 1) % sides.length]!;
  // Up to 4 aside, as the plain offset is up to 900.
  return [
    px + (qx - px) * along - cx + (4 * x) / 900,
    py + (qy - py) * along - cy + (4 * y) / 900,
  ] as const;
}

describe('the tables of pairs', () => {
  it('say there is an overlap where there is one, and none where there is none', () => {
    const shapes = fc.oneof(
      polygon.map((ring) => [ring]),
      fc.constant(frame),
    );
    const offset = fc.double({ min: -900, max: 900, noNaN: true });
    const along = fc.double({ min: 0, max: 1, noNaN: true });
    const question: fc.Arbitrary<Question> = fc.record({
      a: fc.nat(2),
      b: fc.nat(2),
      x: offset,
      y: offset,
      touching: fc.option(fc.tuple(fc.nat(99), fc.nat(99), along), { nil: null, freq: 2 }),
    });
    const seen = { over: 0, apart: 0 };
    fc.assert(
      fc.property(
        fc.tuple(shapes, shapes, shapes),
        fc.array(question, { minLength: 40, maxLength: 40 }),
        (three, questions) => {
          const { severityAt } = tablesOf(...three);
          for (const one of questions) {
            const [dx, dy] = offsetOf(one, three);
            const common = commonArea(judged(three[one.a]!), judged(three[one.b]!, dx, dy));
            // Slivers thinner than the slack are no overlap.
            if (common > 0 && common < 0.01) continue;
            seen[common > 0 ? 'over' : 'apart']++;
            expect(severityAt(one.a, one.b, dx, dy) > 0).toBe(common > 0);
          }
        },
      ),
      { numRuns: 50 },
    );
    expect(Math.min(seen.over, seen.apart)).toBeGreaterThan(100);
  });

  it('let a shape lie in the hole of another, and touch it', () => {
    const { severityAt } = tablesOf(frame, [[0, 0, 100, 0, 100, 100, 0, 100]]);
    expect(severityAt(0, 1, 150, 100)).toBe(0);
    expect(severityAt(0, 1, 160, 100)).toBe(0);
    expect(severityAt(0, 1, 160.01, 100)).toBeGreaterThan(0);
    expect(severityAt(0, 1, 400, 0)).toBe(0);
    expect(severityAt(0, 1, 399.99, 0)).toBeGreaterThan(0);
  });

  it('say the same of a pair the other way round, and turned about with both shapes', () => {
    const rings: Ring[][] = [[...frame], [[0, 0, 90, 10, 60, 80]]];
    const { severityAt } = tablesOf(...rings);
    const half = tablesOf(...rings.map((shape) => shape.map((ring) => turned(ring, 180))));
    for (const [dx, dy] of [
      [10, 20],
      [170, 120],
      [300, 250],
    ] as const) {
      expect(severityAt(1, 0, -dx, -dy)).toBe(severityAt(0, 1, dx, dy));
      expect(half.severityAt(0, 1, -dx, -dy) > 0).toBe(severityAt(0, 1, dx, dy) > 0);
    }
  });

  it('serve shapes turned by half as well, as tables of their own would', () => {
    const hook: Ring[] = [[0, 0, 300, 0, 300, 90, 120, 90, 120, 260, 0, 200]];
    const upright = [hook, frame];
    const turnedToo = [...upright, ...upright.map((rings) => rings.map((r) => turned(r, 180)))];
    const halves = [2, 3, 0, 1];
    const own = tablesOf(...turnedToo);
    const shapes = turnedToo.map((rings, i) => ({ ...shapeOf(rings), halfTurned: halves[i]! }));
    const shared = pairTables(shapes, 1e-6);
    // Off whole numbers, at which sides meet.
    const offset = fc.integer({ min: -500, max: 500 }).map((whole) => whole + 0.37);
    fc.assert(
      fc.property(fc.nat(3), fc.nat(3), offset, offset, (a, b, dx, dy) => {
        const severity = shared.severityAt(a, b, dx, dy);
        expect(severity > 0).toBe(own.severityAt(a, b, dx, dy) > 0);
        expect(shared.severityAt(halves[a]!, halves[b]!, -dx, -dy)).toBe(severity);
        if (a !== b) expect(shared.severityAt(b, a, -dx, -dy)).toBe(severity);
      }),
      { numRuns: 2000 },
    );
  });

  it('see shapes so thin that no circle of note lies in them', () => {
    const by = (deg: number): Ring[] => [turned([0, 0, 20, 0, 0, 0.001], deg)];
    fc.assert(
      fc.property(fc.double({ min: 0, max: 360, noNaN: true }), (deg) => {
        const { severityAt } = tablesOf(by(deg), by(deg + 90));
        expect(severityAt(0, 0, 0, 0)).toBeGreaterThan(0);
        // The right angles at the origin: one reaches from it to the left of the other.
        const [x, y] = turned([1, 0], deg) as [number, number];
        expect(severityAt(0, 1, 0.0003 * x, 0.0003 * y)).toBeGreaterThan(0);
        expect(severityAt(0, 1, -0.1 * x, -0.1 * y)).toBe(0);
      }),
    );
  });

  it('see an overlap where a side of it runs along the cells', () => {
    // The frame on itself, a hair aside: four of its pieces begin or end there, and a cell does too.
    const { severityAt } = tablesOf(frame);
    for (const dx of [0, -3e-14, -1e-9, -9e-7, 3e-14, 1e-9, 9e-7]) {
      for (const dy of [0, -1e-9, 1e-9]) expect(severityAt(0, 0, dx, dy)).toBeGreaterThan(0);
    }
  });

  it('say the same once there were so many that all were forgotten', () => {
    // 130 shapes are 8515 pairs; 6000 tables are kept.
    const random = seededRandom(3);
    const shapes = Array.from({ length: 130 }, () => {
      const at = (deg: number): number[] => turned([40 + 60 * random(), 0], deg);
      return shapeOf([[0, 72, 144, 216, 288].flatMap(at)]);
    });
    const { severityAt } = pairTables(shapes, 1e-6);
    const offset = [...shapes.keys()].map(() => [80 * random(), 80 * random()] as const);
    const asked = (a: number): number[] =>
      [...shapes.keys()].map((b) => severityAt(a, b, ...offset[b]!));
    // Which of two shapes is the first in their table depends on which was asked for first: the last digits do, too.
    const rounded = (values: readonly number[]): number[] =>
      values.map((value) => Number(value.toPrecision(5)));
    const before = asked(0);
    for (const a of shapes.keys()) asked(a);
    expect(rounded(asked(0))).toEqual(rounded(before));
    const fresh = pairTables(shapes, 1e-6);
    const last = shapes.length - 1;
    const alone = [...shapes.keys()].map((b) => fresh.severityAt(last, b, ...offset[b]!));
    expect(rounded(asked(last))).toEqual(rounded(alone));
    expect(before.some((value) => value > 0)).toBe(true);
    expect(before.some((value) => value === 0)).toBe(true);
  });

  it('say that it is worse the deeper an overlap is', () => {
    const square: Ring = [0, 0, 100, 0, 100, 100, 0, 100];
    const { severityAt } = tablesOf([square], [square]);
    const severities = [95, 75, 50, 25, 0].map((dx) => severityAt(0, 1, dx, 0));
    expect(severities).toEqual(severities.toSorted((a, b) => a - b));
    expect(severities[0]).toBeGreaterThan(0);
  });
});
