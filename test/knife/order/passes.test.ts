import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxOfPath, circle, pathLength, polyline } from '../../../src/geometry/paths/path.ts';
import { measurePath, placeAlong } from '../../../src/geometry/measuring/measured-path.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import type { Part } from '../../../src/handing/part.ts';
import type { ContourToCut, Pass } from '../../../src/knife/order/passes.ts';
import { passesOf } from '../../../src/knife/order/passes.ts';
import { layOf, longBay, part, point, rectangle } from '../sample-parts.ts';

const overlap = 12;
const bite = 2500;

/** The passes of parts that lie where they are drawn. */
function passes(parts: readonly Part[], biteLength = bite): Pass[] {
  const at = parts.map(({ label }) => ({ label, x: 0, y: 0, rotation: 0 }));
  return passesOf(layOf(parts, at, { biteLength, joinOverlap: overlap }), parts, longBay);
}

/** Points of what is cut of a contour in a pass, 1 mm apart, ends included. */
function pointsOf({ path, stretch }: ContourToCut) {
  const measured = measurePath(path);
  const { from, to } = stretch ?? { from: 0, to: measured.length };
  const count = Math.ceil(to - from);
  return Array.from({ length: count + 1 }, (_, i) => {
    const along = from + ((to - from) * i) / count;
    return placeAlong(measured, ((along % measured.length) + measured.length) % measured.length)
      .point;
  });
}

/** A strip whose long sides go up and down in straight runs. */
function wavy(length: number, runs: readonly number[]): Path {
  const side = runs.map((y, i) => point((length * i) / (runs.length - 1), y));
  return polyline([...side, point(length, 900), point(0, 900)], true);
}

describe('a part longer than the bed', () => {
  it('is cut in two passes whose joins both have on the bed, worked by hand', () => {
    const runner = part('runner', rectangle(3000, 600, 10, 50));
    const found = passes([runner]);
    expect(found).toHaveLength(2);
    const [first, second] = found as [Pass, Pass];
    // The first bite begins at the start of the roll and holds 2500 mm of it: the sides are cut that
    // far, less what the joins need, and the left end with them.
    const [left] = first.contours;
    const reach = Math.max(...pointsOf(left!).map(({ x }) => x));
    expect(reach).toBeLessThanOrEqual(bite);
    expect(reach).toBeGreaterThan(bite - 100);
    expect(Math.min(...pointsOf(left!).map(({ x }) => x))).toBeCloseTo(10, 6);
    const [right] = second.contours;
    expect(Math.max(...pointsOf(right!).map(({ x }) => x))).toBeCloseTo(3010, 6);
    // Both passes together go round once, and over each of two joins by the overlap again.
    const lengths = [left!, right!].map(({ stretch }) => stretch!.to - stretch!.from);
    expect(lengths[0]! + lengths[1]!).toBeCloseTo(2 * (3000 + 600) + 2 * overlap, 6);
  });

  it('is covered whole, within each bite, and by both at each join', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2600, max: 9000 }),
        fc.array(fc.integer({ min: 0, max: 300 }), { minLength: 4, maxLength: 20 }),
        fc.integer({ min: 0, max: 500 }),
        (length, runs, hole) => {
          const inner = [{ role: 'CUTOUT' as const, path: circle(point(length - 600, 700), 90) }];
          const runner = part('runner', wavy(length, runs), { inner });
          const small = part('small', rectangle(400, 300, hole, 1000));
          const found = passes([runner, small]);
          expect(found.length).toBeGreaterThanOrEqual(Math.ceil(length / bite));
          for (const [i, { start, contours }] of found.entries()) {
            for (const contour of contours) {
              const xs = pointsOf(contour).map(({ x }) => x);
              expect(Math.min(...xs)).toBeGreaterThanOrEqual(start - 1e-6);
              expect(Math.max(...xs)).toBeLessThanOrEqual(start + bite + 1e-6);
            }
            if (i > 0) expect(start).toBeGreaterThan(found[i - 1]!.start);
          }
          const outline = found.flatMap(({ contours }) =>
            contours.filter(({ label, kind }) => label === 'runner' && kind === 'outline'),
          );
          const whole = pathLength(runner.cut);
          const spans = outline
            .map(({ stretch }) => stretch!)
            .map(({ from, to }) => ({ from: from % whole, length: to - from }))
            .sort((a, b) => a.from - b.from);
          expect(spans.length).toBeGreaterThanOrEqual(Math.ceil(length / bite));
          const all = spans.reduce((sum, span) => sum + span.length, 0);
          expect(all).toBeCloseTo(whole + overlap * spans.length, 4);
          for (const [k, span] of spans.entries()) {
            const next = spans[k + 1] ?? { from: spans[0]!.from + whole };
            expect(span.from + span.length - next.from).toBeCloseTo(overlap, 4);
          }
          // Whole things come once, and the cutout no later than the end of its outline.
          const bites = (kind: string, label: string): number[] =>
            found.flatMap(({ contours }, i) =>
              contours.some((c) => c.kind === kind && c.label === label) ? [i] : [],
            );
          expect(bites('outline', 'small')).toHaveLength(1);
          expect(bites('inner', 'runner')).toHaveLength(1);
          expect(bites('inner', 'runner')[0]).toBeLessThanOrEqual(
            bites('outline', 'runner').at(-1)!,
          );
        },
      ),
      { numRuns: 40 },
    );
  });

  it('is joined where it runs straight, past its corners and tight curves', () => {
    // Straight for no more than 45 mm at a time along the lower side.
    const stairs = Array.from({ length: 60 }, (_, i) => [
      point(i * 45, (i % 2) * 30),
      point(i * 45 + 45, (i % 2) * 30),
    ]).flat();
    const outline = polyline([...stairs, point(2700, 800), point(0, 800)], true);
    const found = passes([part('stairs', outline)]);
    // 2700 mm on a bed of 2500.
    expect(found.map(({ contours }) => contours.length)).toEqual([1, 1]);
    for (const { contours } of found) {
      for (const { path, stretch } of contours) {
        const measured = measurePath(path);
        for (const join of [stretch!.from + overlap / 2, stretch!.to - overlap / 2]) {
          const { point: at } = placeAlong(measured, join % measured.length);
          const corners = path.vertices.map(({ x, y }) => Math.hypot(x - at.x, y - at.y));
          expect(Math.min(...corners)).toBeGreaterThanOrEqual(overlap / 2);
        }
      }
    }
  });

  it('is refused with the place where it runs straight nowhere', () => {
    const teeth = Array.from({ length: 1200 }, (_, i) => point(i * 3, (i % 2) * 10));
    const outline = polyline([...teeth, point(3597, 500), point(0, 500)], true);
    expect(() => passes([part('saw', outline)])).toThrow(/part saw: .*straight nowhere.*2500 mm/s);
  });

  it('leaves the bites of a lay without one as they are', () => {
    const parts = [0, 1, 2].map((i) => part(`p${i}`, rectangle(1500, 300, 1600 * i, 20)));
    expect(passes(parts).map(({ start }) => start)).toEqual([0, 1600, 3200]);
    expect(passes(parts).map(({ contours }) => boxOfPath(contours[0]!.path).minX)).toEqual([
      0, 1600, 3200,
    ]);
  });
});
