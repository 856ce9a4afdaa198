import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../src/geometry/paths/point.ts';
import { distance } from '../../../src/geometry/paths/point.ts';
import { rounded } from '../../../src/base/numbers.ts';
import type { ExactArc } from '../../../src/program/writing/arc-words.ts';
import { writtenArc, writtenChords } from '../../../src/program/writing/arc-words.ts';
import { evenly } from '../../knife/sample-parts.ts';

const mm = { decimals: 3, units: 'mm' } as const;

function onCircle(centre: Point, radius: number, deg: number): Point {
  const angle = (deg * Math.PI) / 180;
  return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) };
}

function arcFrom(centre: Point, radius: number, startDeg: number, sweepDeg: number): ExactArc {
  return {
    from: onCircle(centre, radius, startDeg),
    to: onCircle(centre, radius, startDeg + sweepDeg),
    centre,
    sweepDeg,
    headings: [0, sweepDeg],
  };
}

function roundedPoint({ x, y }: Point, decimals: number): Point {
  return { x: rounded(x, decimals), y: rounded(y, decimals) };
}

const anyArc = fc
  .tuple(
    evenly(0, 5000),
    evenly(0, 2000),
    // From a thousandth to a hundred thousand, mm or inches.
    evenly(-3, 5),
    evenly(0, 360),
    fc.oneof(evenly(0.0001, 359.99), fc.constantFrom(90, 180, 179.999, 180.001, 1e-6, 359.9999)),
    fc.boolean(),
  )
  .map(([x, y, size, start, sweep, clockwise]) =>
    arcFrom({ x, y }, 10 ** size, start, clockwise ? -sweep : sweep),
  );

// NISTIR 6556: radii may differ by 0.002 mm; by 0.0002 in inches, from memory.
const figuresOfControllers = [
  { units: 'mm', decimals: 3, apart: 0.002 },
  { units: 'mm', decimals: 5, apart: 0.002 },
  { units: 'inch', decimals: 4, apart: 0.0002 },
  { units: 'inch', decimals: 6, apart: 0.0002 },
] as const;

describe('a written arc', () => {
  it.each(figuresOfControllers)(
    'passes a controller, follows the true arc, and turns the knife by its sweep: $units, $decimals decimals',
    ({ apart, ...figures }) => {
      const digit = 10 ** -figures.decimals;
      const flat = { mm: 0.001, inch: 0.001 / 25.4 }[figures.units];
      fc.assert(
        fc.property(anyArc, (arc) => {
          let start = roundedPoint(arc.from, figures.decimals);
          const radius = distance(arc.from, arc.centre);
          let deg = 0;
          for (const { to, centre, deg: next } of writtenArc(arc, start, figures)) {
            if (centre !== null) {
              const c = { x: start.x + centre.i, y: start.y + centre.j };
              const off = Math.abs(Math.hypot(centre.i, centre.j) - distance(c, to));
              // By hand: with the centre on the bisector, twice half a diagonal of the last digit.
              expect(off).toBeLessThan(1.5 * digit);
              expect(off).toBeLessThan(apart);
              expect(to).not.toEqual(start);
            }
            expect(Math.abs(distance(to, arc.centre) - radius)).toBeLessThan(digit + 1e-9);
            expect(next! * Math.sign(arc.sweepDeg)).toBeGreaterThanOrEqual(
              deg * Math.sign(arc.sweepDeg),
            );
            // A straight stroke stands for an arc that nobody would tell from it.
            const rise = radius * (1 - Math.cos(((next! - deg) * Math.PI) / 360));
            if (centre === null) expect(rise).toBeLessThan(flat);
            deg = next!;
            start = to;
          }
          expect(start).toEqual(roundedPoint(arc.to, figures.decimals));
          expect(deg).toBe(arc.sweepDeg);
        }),
        { numRuns: 1500 },
      );
    },
  );

  it('is one word where a word will do', () => {
    expect(writtenArc(arcFrom({ x: 0, y: 0 }, 50, 0, 180), { x: 50, y: 0 }, mm)).toEqual([
      {
        to: { x: -50, y: 0 },
        centre: { i: -50, j: 0 },
        counterClockwise: true,
        deg: 180,
      },
    ]);
  });

  it('over a half turn is cut in two, a sliver is straight', () => {
    expect(writtenArc(arcFrom({ x: 0, y: 0 }, 50, 0, 270), { x: 50, y: 0 }, mm)).toHaveLength(2);
    const [sliver] = writtenArc(arcFrom({ x: 0, y: 0 }, 50, 0, 0.01), { x: 50, y: 0 }, mm);
    expect(sliver!.centre).toBeNull();
  });
});

describe('an arc in chords', () => {
  // By hand: the step is 2 acos(1 - 0.1 / 100) = 5.1251 degrees, which goes 70.24 times into a circle.
  it('of radius 100 that may be left by 0.1 has 71 of them to the full circle', () => {
    expect(writtenChords(arcFrom({ x: 0, y: 0 }, 100, 0, 360), 0.1, mm)).toHaveLength(71);
    expect(writtenChords(arcFrom({ x: 0, y: 0 }, 100, 0, 5.125), 0.1, mm)).toHaveLength(1);
    expect(writtenChords(arcFrom({ x: 0, y: 0 }, 100, 0, -5.126), 0.1, mm)).toHaveLength(2);
  });

  it('has ends on it, stays within the error, as few as that takes, and all of one length', () => {
    const digit = 1e-6;
    const figures = { decimals: 6, units: 'inch' } as const;
    fc.assert(
      fc.property(anyArc, evenly(-3, -1), (arc, size) => {
        const error = 10 ** size;
        const radius = distance(arc.from, arc.centre);
        fc.pre(radius > error && Math.abs(arc.sweepDeg) * radius < 1e5);
        const chords = writtenChords(arc, error, figures);
        const rise = (count: number): number =>
          radius * (1 - Math.cos((arc.sweepDeg * Math.PI) / 360 / count));
        const fewest = chords.length;
        if (fewest > 1) expect(rise(fewest - 1)).toBeGreaterThan(error * (1 - 1e-6));
        let from = arc.from;
        const length = distance(from, chords[0]!.to);
        for (const { to, centre } of chords) {
          expect(centre).toBeNull();
          expect(Math.abs(distance(to, arc.centre) - radius)).toBeLessThan(digit);
          expect(Math.abs(distance(from, to) - length)).toBeLessThan(4 * digit);
          // Of a chord of a circle: how far the arc rises over it.
          const half = Math.min(1, distance(from, to) / 2 / radius);
          expect(radius * (1 - Math.sqrt(1 - half * half))).toBeLessThan(error + 2 * digit);
          from = to;
        }
        expect(from).toEqual(roundedPoint(arc.to, 6));
      }),
      { numRuns: 500 },
    );
  });

  it('turns the knife along it: tangent wherever a chord ends', () => {
    fc.assert(
      fc.property(evenly(1, 500), evenly(0, 360), evenly(-359, 359), (radius, start, sweep) => {
        fc.pre(Math.abs(sweep) > 0.1);
        const side = 90 * Math.sign(sweep);
        const headings = [start + side, start + side + sweep] as const;
        const arc = { ...arcFrom({ x: 0, y: 0 }, radius, start, sweep), headings };
        for (const { to, deg } of writtenChords(arc, 0.01, { decimals: 9, units: 'mm' })) {
          const turn = ((deg! - side) * Math.PI) / 180;
          expect(
            distance(to, { x: radius * Math.cos(turn), y: radius * Math.sin(turn) }),
          ).toBeLessThan(1e-6);
        }
        expect(
          writtenChords({ ...arc, headings: null }, 0.01, mm).every((one) => one.deg === null),
        ).toBe(true);
      }),
    );
  });
});
