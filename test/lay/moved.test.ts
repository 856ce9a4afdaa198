import fc from 'fast-check';
import { areaD, FillRule, intersectD } from 'clipper2-ts';
import { describe, expect, it } from 'vitest';
import { flatten } from '../../src/geometry/paths/flatten.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { circle, polyline } from '../../src/geometry/paths/path.ts';
import type { Point } from '../../src/geometry/paths/point.ts';
import type { Part } from '../../src/handing/part.ts';
import type { LaidPart } from '../../src/lay/judge.ts';
import { laidPart } from '../../src/lay/judge.ts';
import type { Lay, LayRules, Placement, Roll } from '../../src/lay/lay.ts';
import { judgeMoved, nearestPlace } from '../../src/lay/moved.ts';
import { verifyLay } from '../../src/lay/verify.ts';
import { material, oblong, partOf, plainRules, roll } from './fixtures.ts';

/** The roll of the fixtures is 2000 wide, its selvedges 25, its start margin 40. */
const rules: LayRules = { ...plainRules, gap: 6 };

function at(label: string, x: number, y: number, rotation = 270): Placement {
  return { label, x, y, rotation };
}

/** Parts whose pile lies at 90 degrees in their own frame lie at 270: a length along y is along x. */
function flat(label: string, cut: Path, inner: readonly Path[] = []): Part {
  return partOf(label, cut, inner, { pileDeg: 0 });
}

const moved = flat('moved', oblong(300, 200));

function rulesAt(
  x: number,
  y: number,
  others: readonly LaidPart[] = [],
  on: Roll = roll,
  keep: LayRules = rules,
): string[] {
  return judgeMoved(moved, at('moved', x, y, 0), others, on, keep).map(({ rule }) => rule);
}

const neighbour = laidPart(flat('neighbour', oblong(400, 400)), at('neighbour', 500, 500, 0));

describe('a part that a hand has put somewhere', () => {
  it.each<[string, number, number, string[]]>([
    ['free on the roll', 1000, 1000, []],
    ['at its very start and edge', 40, 25, []],
    ['in the start margin', 39.9, 25, ['lay-start']],
    ['over the near selvedge', 40, 24.9, ['lay-selvedge']],
    ['over the far selvedge', 40, 1775.1, ['lay-selvedge']],
    ['as far over as it may', 40, 1775, []],
    ['the gap away from its neighbour', 194, 500, []],
    ['nearer than the gap', 194.1, 500, ['lay-gap']],
    ['nearer at a corner', 500 - 300 - 4, 500 - 200 - 4, ['lay-gap']],
    ['the gap away at a corner', 500 - 300 - 4.3, 500 - 200 - 4.3, []],
    ['over its neighbour', 230, 500, ['lay-overlap']],
    ['wholly on it', 550, 550, ['lay-overlap']],
  ])('%s', (_, x, y, expected) => {
    expect(rulesAt(x, y, [neighbour])).toEqual(expected);
  });

  it('past the end of the roll, over a defect, off a remnant', () => {
    const stain = oblong(100, 100, 1000, 1000).vertices;
    const outline = [
      { x: 0, y: 0 },
      { x: 3000, y: 0 },
      { x: 0, y: 3000 },
    ];
    expect(rulesAt(700, 30, [], { ...roll, length: 1000 })).toEqual([]);
    expect(rulesAt(700.1, 30, [], { ...roll, length: 1000 })).toEqual(['lay-end']);
    expect(rulesAt(701, 801, [], { ...roll, defects: [stain] })).toEqual(['lay-defect']);
    expect(rulesAt(699, 801, [], { ...roll, defects: [stain] })).toEqual([]);
    expect(rulesAt(1000, 1499, [], { ...roll, outline })).toEqual([]);
    expect(rulesAt(1000, 1502, [], { ...roll, outline })).toEqual(['lay-remnant']);
  });

  it('longer than the bed as it lies', () => {
    const bed = { ...rules, biteLength: 299 };
    expect(rulesAt(100, 100, [], roll, bed)).toEqual(['lay-bite']);
    expect(rulesAt(100, 100, [], roll, { ...bed, joinOverlap: 20 })).toEqual([]);
  });

  it.each<[LayRules['turns'], number, boolean]>([
    ['one-way', 0, true],
    ['one-way', 90, false],
    ['one-way', 180, false],
    ['two-way', 180, true],
    ['two-way', 270, false],
    ['any', 270, true],
    ['any', 45, false],
  ])('of pile %s turned by %d degrees: %s', (turns, rotation, isRight) => {
    const found = judgeMoved(moved, at('moved', 1000, 1000, rotation), [], roll, {
      ...rules,
      turns,
    });
    expect(found.map(({ rule }) => rule)).toEqual(isRight ? [] : ['lay-turn']);
    for (const { todo, where } of found) {
      expect(todo).toBe('Turn it another way.');
      expect(where.part).toBe('moved');
    }
  });

  it('is told by how much it overlaps, to the mm2: oblongs and rounds', () => {
    // 70 mm into the neighbour along the roll and 100 across it.
    const [square] = judgeMoved(moved, at('moved', 270, 400, 0), [neighbour], roll, rules);
    expect(square!.message).toContain('neighbour overlap by 7000 mm2');
    expect(square!.todo).toBe('Put it elsewhere.');
    // Two circles of R 100 whose centres are 120 apart: 2 R2 acos(d / 2R) - d / 2 sqrt(4 R2 - d2).
    const lens = 2 * 1e4 * Math.acos(0.6) - 60 * Math.sqrt(4e4 - 120 ** 2);
    const round = flat('moved', circle({ x: 0, y: 0 }, 100));
    const other = laidPart(flat('other', circle({ x: 0, y: 0 }, 100)), at('other', 620, 500, 0));
    const [curved] = judgeMoved(round, at('moved', 500, 500, 0), [other], roll, rules);
    const said = Number(/overlap by ([\d.]+) mm2/.exec(curved!.message)![1]);
    // Chords inside the arcs leave out a hundredth of a mm of 370 mm at most.
    expect(said).toBeLessThanOrEqual(lens + 0.01);
    expect(said).toBeGreaterThan(lens - 3.7);
  });

  it('may lie in the cutout of another, and not over its edge', () => {
    const frame = flat('frame', oblong(800, 800), [oblong(400, 400, 200, 200)]);
    const others = [laidPart(frame, at('frame', 500, 500, 0))];
    expect(rulesAt(750, 800, others)).toEqual([]);
    expect(rulesAt(703, 800, others)).toEqual(['lay-gap']);
    expect(rulesAt(650, 800, others)).toEqual(['lay-overlap']);
  });

  it('is not blamed for what is wrong among the others', () => {
    const twin = { ...neighbour, label: 'twin' };
    const off = laidPart(flat('off', oblong(400, 400)), at('off', 10, 10, 0));
    expect(rulesAt(1200, 1200, [neighbour, twin, off])).toEqual([]);
    expect(rulesAt(230, 500, [neighbour, twin, off])).toEqual(['lay-overlap', 'lay-overlap']);
  });
});

/** A star of straight sides about the origin. */
const star: fc.Arbitrary<Point[]> = fc
  .array(fc.double({ min: 30, max: 150, noNaN: true }), { minLength: 3, maxLength: 12 })
  .map((radii) =>
    radii.map((radius, i) => {
      const angle = (2 * Math.PI * i) / radii.length;
      return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
    }),
  );

function shifted(points: readonly Point[], x: number, y: number): Point[] {
  return points.map((p) => ({ x: p.x + x, y: p.y + y }));
}

function areaOfRing(ring: readonly Point[]): number {
  const doubled = ring.reduce((sum, { x, y }, i) => {
    const next = ring[(i + 1) % ring.length]!;
    return sum + x * next.y - next.x * y;
  }, 0);
  return Math.abs(doubled) / 2;
}

/** Areas of what two polygons share, by Clipper2: the judge asks another library. */
function sharedAreas(a: readonly Point[], b: readonly Point[]): number[] {
  const path = (points: readonly Point[]) => [points.map(({ x, y }) => ({ x, y }))];
  // Stars have no holes, and what two of them share has none.
  return intersectD(path(a), path(b), FillRule.NonZero, 6).map((ring) => Math.abs(areaD(ring)));
}

/** The distance of two polygons that do not meet: from a corner of one to a side of the other. */
function distanceOf(a: readonly Point[], b: readonly Point[]): number {
  return Math.min(cornersToSides(a, b), cornersToSides(b, a));
}

function cornersToSides(corners: readonly Point[], polygon: readonly Point[]): number {
  return Math.min(
    ...corners.flatMap((p) =>
      polygon.map((from, i) => {
        const to = polygon[(i + 1) % polygon.length]!;
        const [dx, dy] = [to.x - from.x, to.y - from.y];
        const along = ((p.x - from.x) * dx + (p.y - from.y) * dy) / (dx * dx + dy * dy);
        const share = Math.max(0, Math.min(1, along));
        return Math.hypot(from.x + share * dx - p.x, from.y + share * dy - p.y);
      }),
    ),
  );
}

describe('two polygons', () => {
  it('overlap, are too near, or are far enough, as another reckons', () => {
    const place = fc.integer({ min: -260, max: 260 });
    const seen = { 'lay-overlap': 0, 'lay-gap': 0, none: 0 };
    fc.assert(
      fc.property(star, star, place, place, (a, b, dx, dy) => {
        const part = flat('a', polyline(a, true));
        const other = laidPart(flat('b', polyline(b, true)), at('b', 1000, 1000, 0));
        const found = judgeMoved(part, at('a', 1000 + dx, 1000 + dy, 0), [other], roll, rules);
        const areas = sharedAreas(shifted(a, dx, dy), b);
        const shared = areas.reduce((sum, area) => sum + area, 0);
        if (shared > 0.5) {
          seen['lay-overlap']++;
          expect(found.map(({ rule }) => rule)).toEqual(['lay-overlap']);
          const said = Number(/overlap by ([\d.]+) mm2/.exec(found[0]!.message)![1]);
          expect(Math.min(...areas.map((area) => Math.abs(area - said)))).toBeLessThan(0.02);
        } else if (areas.length === 0) {
          const away = distanceOf(shifted(a, dx, dy), b);
          if (Math.abs(away - rules.gap) < 0.001) return;
          seen[away < rules.gap ? 'lay-gap' : 'none']++;
          expect(found.map(({ rule }) => rule)).toEqual(away < rules.gap ? ['lay-gap'] : []);
          if (away >= rules.gap) return;
          const said = Number(/is ([\d.]+) mm from b/.exec(found[0]!.message)![1]);
          expect(said).toBeCloseTo(away, 2);
        }
      }),
      { numRuns: 1500 },
    );
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(15);
  });
});

describe('the nearest place', () => {
  const nearest = (x: number, y: number, others: readonly LaidPart[], on: Roll = roll) =>
    nearestPlace(moved, at('moved', x, y, 0), others, on, rules);

  it('is beside the neighbour that is in the way', () => {
    // 11 mm back along the roll are enough.
    const near = nearest(205, 500, [neighbour])!;
    const way = Math.hypot(near.x - 205, near.y - 500);
    expect(way).toBeGreaterThan(10.9);
    expect(way).toBeLessThan(11 * 1.35 + 0.1);
    expect(near).toMatchObject({ label: 'moved', rotation: 0 });
    expect(rulesAt(near.x, near.y, [neighbour])).toEqual([]);
  });

  it('is on the roll, where a hand has left it', () => {
    const near = nearest(20, 5, [])!;
    expect(near.x).toBeGreaterThanOrEqual(40);
    expect(near.y).toBeGreaterThanOrEqual(25);
    expect(Math.hypot(near.x - 20, near.y - 5)).toBeLessThan(Math.hypot(20, 20) * 1.35 + 0.1);
  });

  it.each<[string, number, number, readonly LaidPart[], Roll]>([
    ['in the middle of a large one', 550, 600, [neighbour], roll],
    ['far off the roll', -200, 100, [], roll],
    ['on a remnant that is too small', 50, 50, [], { ...roll, length: 250 }],
  ])('is none %s', (_, x, y, others, on) => {
    expect(nearest(x, y, others, on)).toBeNull();
  });

  it('is none in a turn that the pile does not allow', () => {
    expect(nearestPlace(moved, at('moved', 1000, 1000, 90), [], roll, rules)).toBeNull();
  });

  it('is one where nothing is wrong with the whole lay, within 60 mm, in the same turn, or none', () => {
    const place = fc.record({
      x: fc.integer({ min: 0, max: 70_000 }).map((n) => n / 100),
      y: fc.integer({ min: 0, max: 70_000 }).map((n) => n / 100),
    });
    const small = { ...roll, width: 700, length: 700 };
    const seen = { found: 0, none: 0 };
    fc.assert(
      fc.property(
        star,
        place,
        fc.array(star, { maxLength: 6 }),
        fc.infiniteStream(place),
        (one, wanted, stars, places) => {
          const part = flat('moved', polyline(one, true));
          // Only those that lie well before: what is then wrong is the moved one's.
          const parts: Part[] = [];
          const placements: Placement[] = [];
          const laid: LaidPart[] = [];
          for (const [i, points] of stars.entries()) {
            const { x, y } = places.next().value!;
            const other = flat(`other.${i}`, polyline(points, true));
            const placement = at(other.label, x, y, 0);
            if (judgeMoved(other, placement, laid, small, rules).length > 0) continue;
            parts.push(other);
            placements.push(placement);
            laid.push(laidPart(other, placement));
          }
          const near = nearestPlace(part, at('moved', wanted.x, wanted.y, 0), laid, small, rules);
          seen[near === null ? 'none' : 'found']++;
          if (near === null) return;
          // Half a tenth in both ways is what rounding may add.
          expect(Math.hypot(near.x - wanted.x, near.y - wanted.y)).toBeLessThan(60.08);
          expect(near.rotation).toBe(0);
          expect(near.x * 10).toBeCloseTo(Math.round(near.x * 10), 6);
          expect(
            verifyLay(layOf([...parts, part], [...placements, near], small), [...parts, part]),
          ).toEqual([]);
        },
      ),
      { numRuns: 300 },
    );
    expect(Math.min(seen.found, seen.none)).toBeGreaterThan(20);
  });
});

/** A lay with its figures, reckoned here. */
function layOf(parts: readonly Part[], placements: readonly Placement[], on: Roll): Lay {
  const corners = placements.map(({ label, x, y }) =>
    shifted(flatten(parts.find((part) => part.label === label)!.cut, 1), x, y),
  );
  const length = Math.max(...corners.flat().map(({ x }) => x));
  const area = corners.reduce((sum, ring) => sum + areaOfRing(ring), 0);
  const density = area / (length * (on.width - 2 * on.selvedge));
  return { material, roll: on, rules, placements, length, density };
}
