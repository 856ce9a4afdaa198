import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flatten } from '../../src/geometry/paths/flatten.ts';
import { transformPath } from '../../src/geometry/paths/transform.ts';
import type { Part } from '../../src/handing/part.ts';
import { twiceArea } from '../../src/lay/engine/polygon.ts';
import { layParts } from '../../src/lay/lay-parts.ts';
import type { Lay, LayRules, Roll } from '../../src/lay/lay.ts';
import { placementTransform } from '../../src/lay/lay.ts';
import { obstaclesOn } from '../../src/lay/obstacles.ts';
import { verifyLay } from './verify.ts';
import type { Contour } from '../support/contours.ts';
import { holds, pointsOn } from '../support/contours.ts';
import {
  defects,
  material,
  oblong,
  partOf,
  plainRules,
  remnant,
  roll,
  someParts,
} from './fixtures.ts';
import { refereeVerdict, shapely } from './shapely.ts';
import { tries } from '../support/thorough.ts';

const search = { seed: 1, limit: { rounds: 5 } };
const rules: LayRules = { turns: 'two-way', gap: 4, biteLength: Infinity };

const flawed: fc.Arbitrary<Roll> = fc
  .record({ flaws: defects, outline: fc.option(remnant, { nil: undefined }) })
  .map(({ flaws, outline }) => ({
    ...roll,
    defects: flaws,
    ...(outline === undefined ? {} : { outline, length: Math.max(...outline.map(({ x }) => x)) }),
  }));

/** The contours of a lay's parts where they lie, cutouts left out. */
function laidContours({ placements }: Lay, parts: readonly Part[]): Contour[] {
  return placements.map((placement) => {
    const { cut } = parts.find(({ label }) => label === placement.label)!;
    return transformPath(placementTransform(placement), cut).vertices;
  });
}

function contourOf(points: readonly { x: number; y: number }[]): Contour {
  return points.map(({ x, y }) => ({ x, y, bulge: 0 }));
}

/** Points on a contour no further from each other than 5 mm. */
function closePoints(contour: Contour): [number, number][] {
  const points = pointsOn(contour);
  return points.flatMap(([bx, by], i) => {
    const [ax, ay] = points.at(i - 1)!;
    const steps = Math.ceil(Math.hypot(bx - ax, by - ay) / 5) + 1;
    return Array.from({ length: steps }, (_, k): [number, number] => [
      ax + ((bx - ax) * k) / steps,
      ay + ((by - ay) * k) / steps,
    ]);
  });
}

describe('a lay', () => {
  it('keeps off defects and inside a remnant: to its judge, and point by point', async () => {
    await fc.assert(
      fc.asyncProperty(someParts, flawed, async (some, on) => {
        // What lies in a cutout may be a defect: here there are none.
        const parts = some.map((part) => ({ ...part, inner: [] }));
        const lay = await layParts(parts, material, on, rules, search);
        const found = verifyLay(lay, parts).filter(({ rule }) => rule !== 'lay-end');
        if (lay.length <= on.length) expect(found).toEqual([]);
        for (const contour of laidContours(lay, parts)) {
          for (const defect of on.defects!.map(contourOf)) {
            expect(closePoints(defect).some(([x, y]) => holds(contour, x, y))).toBe(false);
            expect(closePoints(contour).some(([x, y]) => holds(defect, x, y))).toBe(false);
          }
          if (on.outline === undefined || lay.length > on.length) continue;
          const edge = contourOf(on.outline);
          expect(closePoints(contour).every(([x, y]) => holds(edge, x, y))).toBe(true);
          expect(closePoints(edge).some(([x, y]) => holds(contour, x, y))).toBe(false);
        }
      }),
      { numRuns: tries(5, 8) },
    );
  });

  it('goes round a defect that bars the roll, and fills what is left beside one', async () => {
    const across = oblong(30, 2000, 300, 0).vertices;
    const parts = [1, 2].map((i) => partOf(`a.${i}`, oblong(400, 975), [], { pileDeg: 0 }));
    const barred = await layParts(
      parts,
      material,
      { ...roll, defects: [across] },
      plainRules,
      search,
    );
    expect(barred.placements.map(({ x }) => x)).toEqual([330, 330]);
    // Half of the width, to the far end of it.
    const beside = oblong(500, 1000, 0, 1000).vertices;
    const one = await layParts(
      parts.slice(1),
      material,
      { ...roll, defects: [beside] },
      plainRules,
      search,
    );
    expect(one.placements).toMatchObject([{ x: 40, y: 25 }]);
  });

  it('finds room in a remnant, and past its edge none', async () => {
    const outline = oblong(400, 1000, 100, 500).vertices;
    const on = { ...roll, outline, length: 500 };
    const [fitting, larger] = [950, 1001].map((height) =>
      partOf('a', oblong(400, height), [], { pileDeg: 0 }),
    );
    const { placements } = await layParts([fitting!], material, on, plainRules, search);
    expect(placements).toMatchObject([{ x: 100 }]);
    expect(placements[0]!.y).toBeGreaterThanOrEqual(500);
    expect(placements[0]!.y).toBeLessThanOrEqual(550);
    const { length } = await layParts([larger!], material, on, plainRules, search);
    expect(length).toBeGreaterThan(on.length);
  });
});

describe.skipIf(shapely.missing)(`shapely as a referee${shapely.note}`, () => {
  it('finds parts at least half the gap from defects and edges, and no area shared', async () => {
    const parts = fc
      .sample(someParts, { numRuns: 3, seed: 5 })
      .flatMap((some, i) => some.map((part) => ({ ...part, label: `${i}.${part.label}` })));
    const flaws = fc.sample(defects, { numRuns: 8, seed: 2 }).flat();
    const [outline] = fc.sample(remnant, { numRuns: 1, seed: 3 });
    const on = { ...roll, defects: flaws, outline: outline!, length: 6000 };
    expect(flaws.length).toBeGreaterThan(4);
    const lay = await layParts(parts, material, on, rules, search);
    expect(lay.length).toBeLessThan(6000);
    const ringOf = (points: readonly { x: number; y: number }[]) =>
      points.map(({ x, y }) => [x, y] as const);
    const standing = [
      ...on.defects.map((defect) => ({ rings: [ringOf(defect)], x: 0, y: 0, rotation: 0 })),
      {
        rings: [ringOf(oblong(9000, 4000, -1000, -1000).vertices), ringOf(on.outline)],
        x: 0,
        y: 0,
        rotation: 0,
      },
    ];
    const laid = lay.placements.map(({ label, ...place }) => {
      const { cut, inner } = parts.find((part) => part.label === label)!;
      const rings = [
        flatten(cut, 0.001, 'inside'),
        ...inner.map(({ path }) => flatten(path, 0.001, 'outside')),
      ];
      return { ...place, rings: rings.map(ringOf) };
    });
    for (const one of standing) {
      const { leastDistance, area, unitedArea } = refereeVerdict([one, ...laid]);
      expect(leastDistance).toBeGreaterThan(rules.gap / 2 - 1e-6);
      expect(Math.abs(area - unitedArea)).toBeLessThan(1e-2);
    }
  });
});

describe('obstaclesOn', () => {
  it('a roll without faults has none', () => {
    expect(obstaclesOn(roll)).toEqual([]);
    expect(obstaclesOn({ ...roll, defects: [] })).toEqual([]);
  });

  it('begins at the start margin, inside the selvedge, counter-clockwise', () => {
    const defect = oblong(100, 50, 240, 125).vertices;
    for (const one of [defect, defect.toReversed()]) {
      const [{ outline, holes }] = obstaclesOn({ ...roll, defects: [one] }) as [
        ReturnType<typeof obstaclesOn>[0],
      ];
      expect(holes).toEqual([]);
      expect(twiceArea(outline)).toBe(2 * 100 * 50);
      expect([Math.min(...outline), Math.max(...outline)]).toEqual([100, 300]);
    }
  });

  it('around a remnant are all that the remnant is not', () => {
    fc.assert(
      fc.property(remnant, (outline) => {
        const obstacles = obstaclesOn({ ...roll, outline, length: 6000 });
        const edge = contourOf(outline);
        const rings = obstacles.flatMap(({ outline: outer, holes }) => [outer, ...holes]);
        const contours = rings.map((ring) =>
          contourOf(
            Array.from({ length: ring.length / 2 }, (_, i) => ({
              x: ring[2 * i]! + roll.startMargin,
              y: ring[2 * i + 1]! + roll.selvedge,
            })),
          ),
        );
        for (let x = 41.3; x < 6000; x += 97) {
          for (let y = 26.7; y < 1975; y += 89) {
            const within = contours.filter((contour) => holds(contour, x, y)).length % 2 === 1;
            expect(within).toBe(!holds(edge, x, y));
          }
        }
      }),
      { numRuns: tries(8, 10) },
    );
  });
});
