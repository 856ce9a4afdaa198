import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry/point.ts';
import { distance } from '../../src/geometry/point.ts';
import { rounded } from '../../src/numbers.ts';
import type { ExactArc } from '../../src/program/arc-words.ts';
import { writtenArc } from '../../src/program/arc-words.ts';
import { evenly } from '../knife/sample-parts.ts';

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

function roundedPoint({ x, y }: Point): Point {
  return { x: rounded(x, 3), y: rounded(y, 3) };
}

const anyArc = fc
  .tuple(
    evenly(0, 5000),
    evenly(0, 2000),
    // From a thousandth of a millimetre to a hundred metres.
    evenly(-3, 5),
    evenly(0, 360),
    fc.oneof(evenly(0.0001, 359.99), fc.constantFrom(90, 180, 179.999, 180.001, 1e-6, 359.9999)),
    fc.boolean(),
  )
  .map(([x, y, size, start, sweep, clockwise]) =>
    arcFrom({ x, y }, 10 ** size, start, clockwise ? -sweep : sweep),
  );

describe('a written arc', () => {
  it('passes a controller, follows the true arc, and turns the knife by its sweep', () => {
    fc.assert(
      fc.property(anyArc, (arc) => {
        let start = roundedPoint(arc.from);
        const radius = distance(arc.from, arc.centre);
        let deg = 0;
        for (const { to, centre, deg: next } of writtenArc(arc, start, mm)) {
          if (centre !== null) {
            const c = { x: start.x + centre.i, y: start.y + centre.j };
            const fromRadius = Math.hypot(centre.i, centre.j);
            // NISTIR 6556, facts 1 [S]: 0.002 mm. [D] 0.0015 with the centre on the bisector.
            expect(Math.abs(fromRadius - distance(c, to))).toBeLessThan(0.0015);
            expect(to).not.toEqual(start);
          }
          expect(Math.abs(distance(to, arc.centre) - radius)).toBeLessThan(0.001);
          expect(next! * Math.sign(arc.sweepDeg)).toBeGreaterThanOrEqual(
            deg * Math.sign(arc.sweepDeg),
          );
          deg = next!;
          start = to;
        }
        expect(start).toEqual(roundedPoint(arc.to));
        expect(deg).toBe(arc.sweepDeg);
      }),
      { numRuns: 3000 },
    );
  });

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
