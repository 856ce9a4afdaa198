import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { areaOf, isCounterClockwise } from '../../../src/geometry/paths/area.ts';
import { placeInPath } from '../../../src/geometry/relations/contains.ts';
import { selfCrossings } from '../../../src/geometry/relations/crossings.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { alongPath, pathLength, polyline } from '../../../src/geometry/paths/path.ts';
import { stretchOf } from '../../../src/geometry/paths/stretch.ts';
import { cutContour, insetContour } from '../../../src/handing/edges/allowance.ts';
import type { EdgeStretch } from '../../../src/pattern/edges.ts';
import { claimEdges } from '../../../src/pattern/edges.ts';
import type { EdgeKind } from '../../../src/pattern/words.ts';
import { outline } from '../../geometry/arbitrary.ts';
import { materials, oblong, slotted } from '../fixtures.ts';

// Bound and raw 0, seam 10, tuck 30, turned 25.
const material = materials.get('carpet')!;
const where = { file: 'test.dxf', piece: 'mat' };

/** The outline in stretches that begin at the given lengths. */
function stretchesOf(net: Path, begins: readonly (readonly [number, EdgeKind])[]): EdgeStretch[] {
  const traces = begins.map(([from, kind], i) => ({
    kind,
    name: null,
    line: i,
    path: stretchOf(net, from, begins[(i + 1) % begins.length]![0]),
  }));
  const { stretches, findings } = claimEdges(net, traces, null, where);
  expect(findings).toEqual([]);
  return stretches;
}

function expectCorners(path: Path, corners: readonly (readonly [number, number])[]): void {
  const meant = polyline(
    corners.map(([x, y]) => ({ x, y })),
    true,
  );
  for (const vertex of path.vertices) {
    expect(nearestOnPath(meant, vertex).distance).toBeLessThan(1e-9);
  }
  expect(areaOf(path)).toBeCloseTo(areaOf(meant), 6);
}

function refusalOf(make: () => unknown): Refusal {
  try {
    make();
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

describe('cutContour', () => {
  const net = oblong(0, 0, 400, 300);

  it('is the net outline itself where nothing is allowed', () => {
    const bound = stretchesOf(net, [
      [0, 'bound'],
      [700, 'raw'],
    ]);
    expect(cutContour(net, bound, material, where)).toBe(net);
  });

  // Below a seam of 10, right a tuck of 30; between them the corner is mitred. Above bound. Left turned by
  // 25: above it ends on y = 300, below on the image of the seam's cut line, y = -10 itself.
  it('moves each stretch by what its kind is allowed', () => {
    const kinds = stretchesOf(net, [
      [0, 'seam'],
      [400, 'tuck'],
      [700, 'bound'],
      [1100, 'turned'],
    ]);
    expectCorners(cutContour(net, kinds, material, where), [
      [-25, -10],
      [430, -10],
      [430, 300],
      [-25, 300],
    ]);
  });

  it('steps where the kind changes along a side', () => {
    const kinds = stretchesOf(net, [
      [150, 'seam'],
      [250, 'bound'],
    ]);
    expectCorners(cutContour(net, kinds, material, where), [
      [0, 0],
      [150, 0],
      [150, -10],
      [250, -10],
      [250, 0],
      [400, 0],
      [400, 300],
      [0, 300],
    ]);
  });

  // [D] Folded edges below and right: the mitre through (400, 0), 25 to each side.
  it('cuts a corner between two turned edges so that it folds to a mitre', () => {
    const kinds = stretchesOf(net, [
      [0, 'turned'],
      [700, 'bound'],
    ]);
    expectCorners(cutContour(net, kinds, material, where), [
      [0, -25],
      [375, -25],
      [400, 0],
      [425, 25],
      [425, 300],
      [0, 300],
    ]);
  });

  it('refuses a slot that its own allowances close, with a place in the slot', () => {
    const whole = stretchesOf(slotted, [
      [0, 'tuck'],
      [300, 'tuck'],
    ]);
    const { findings } = refusalOf(() => cutContour(slotted, whole, material, where));
    expect(findings).toHaveLength(1);
    const { rule, where: place } = findings[0]!;
    expect([rule, place.piece]).toEqual(['allowance', 'mat']);
    expect(Math.abs(place.at!.x - 150)).toBeLessThan(50);
  });
});

describe('cutContour, where the new contour crosses itself', () => {
  // A room of 100 x 100 behind a mouth of 40: tucked by 30 all round, the sides of the mouth change places.
  it('refuses, with a place in the mouth', () => {
    const mouth = polyline(
      [
        [0, 0],
        [300, 0],
        [300, 200],
        [170, 200],
        [170, 150],
        [200, 150],
        [200, 50],
        [100, 50],
        [100, 150],
        [130, 150],
        [130, 200],
        [0, 200],
      ].map(([x, y]) => ({ x: x!, y: y! })),
      true,
    );
    const whole = stretchesOf(mouth, [
      [0, 'tuck'],
      [300, 'tuck'],
    ]);
    const { findings } = refusalOf(() => cutContour(mouth, whole, material, where));
    expect(findings[0]!.message).toContain('crosses itself');
    const { x, y } = findings[0]!.where.at!;
    expect(Math.abs(x - 150)).toBeLessThan(11);
    expect(y).toBeGreaterThan(119);
    expect(y).toBeLessThan(231);
  });
});

describe('insetContour', () => {
  it('draws the outline in all round', () => {
    expectCorners(insetContour(oblong(0, 0, 400, 300), 20, material, where), [
      [20, 20],
      [380, 20],
      [380, 280],
      [20, 280],
    ]);
  });

  it.each([150, 160, 250])('refuses an inset of %d mm, which leaves nothing', (inset) => {
    const { findings } = refusalOf(() =>
      insetContour(oblong(0, 0, 400, 300), inset, material, where),
    );
    expect(findings.map(({ rule }) => rule)).toEqual(['allowance']);
    expect(findings[0]!.message).toContain(`an inset of ${inset} mm does not fit`);
  });
});

const traced = fc
  .tuple(
    outline,
    fc.uniqueArray(fc.integer({ min: 1, max: 20 }), { minLength: 2, maxLength: 6 }),
    fc.shuffledSubarray(['seam', 'tuck', 'turned', 'bound', 'raw'] as const, { minLength: 2 }),
  )
  .map(([net, cuts, kinds]) => {
    const length = pathLength(net);
    const begins = cuts
      .sort((a, b) => a - b)
      .map((cut, i) => [(cut / 21) * length, kinds[i % kinds.length]!] as const);
    const stretches = stretchesOf(net, begins);
    return { net, stretches, cut: cutUnlessRefused(net, stretches) };
  })
  .filter(({ cut }) => cut !== null)
  .map(({ net, stretches, cut }) => ({ net, stretches, cut: cut! }));

/** An inside corner may come so near to the end of a wide allowance that the two cannot both be cut. */
function cutUnlessRefused(net: Path, stretches: readonly EdgeStretch[]): Path | null {
  try {
    return cutContour(net, stretches, material, where);
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

describe('laws of the cut contour, on random outlines', () => {
  it('it holds the net outline, runs once round it and does not cross itself', () => {
    fc.assert(
      fc.property(traced, ({ net, cut }) => {
        expect(isCounterClockwise(cut)).toBe(true);
        expect(selfCrossings(cut)).toEqual([]);
        for (const vertex of net.vertices) {
          expect(placeInPath(cut, vertex, 1e-5)).not.toBe('outside');
        }
        expect(areaOf(cut)).toBeGreaterThan(areaOf(net) - 1e-6);
      }),
    );
  });

  it('far from corners it lies as far out as the kind is allowed', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(traced, ({ stretches, cut }) => {
        for (const { kind, from, to, path } of stretches) {
          const { point, station, tangent } = alongPath(path, pathLength(path) / 2);
          // Where allowances of 30 are joined at corners of up to 120 degrees, 100 mm are far.
          const corners = [path.vertices[station.segment]!, path.vertices[station.segment + 1]!];
          if (corners.some((c) => Math.hypot(c.x - point.x, c.y - point.y) < 100)) continue;
          seen.add(kind);
          const amount = material.allowances[kind];
          const out = { x: point.x + tangent.y * amount, y: point.y - tangent.x * amount };
          // An arc that hardly rises counts as straight once it is cut in two: flatArc, 1e-4 mm.
          expect(nearestOnPath(cut, out).distance, `${kind} ${from} ${to}`).toBeLessThan(2e-4);
        }
      }),
    );
    expect(seen.size).toBeGreaterThan(1);
  });
});
