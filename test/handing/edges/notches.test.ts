import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { placeInPath } from '../../../src/geometry/relations/contains.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { alongPath, pathLength, segmentsOf } from '../../../src/geometry/paths/path.ts';
import type { Point } from '../../../src/geometry/paths/point.ts';
import { stretchOf } from '../../../src/geometry/paths/stretch.ts';
import { cutContour } from '../../../src/handing/edges/allowance.ts';
import type { EdgeLines } from '../../../src/handing/edges/notches.ts';
import { drillMark, edgeLines, slitOf } from '../../../src/handing/edges/notches.ts';
import type { Notch } from '../../../src/handing/part.ts';
import { claimEdges } from '../../../src/pattern/edges.ts';
import type { EdgeKind } from '../../../src/pattern/words.ts';
import { outline } from '../../geometry/arbitrary.ts';
import { line, materials, oblong } from '../fixtures.ts';

const material = materials.get('carpet')!;

/** The lines of an outline whose stretches between the given lengths are of the given kinds. */
function linesOf(net: Path, cuts: readonly number[], kinds: readonly EdgeKind[]): EdgeLines {
  const traces = cuts.map((from, i) => ({
    kind: kinds[i % kinds.length]!,
    name: null,
    line: i,
    path: stretchOf(net, from, cuts[(i + 1) % cuts.length]!),
  }));
  const { stretches, findings } = claimEdges(net, traces, null, {});
  expect(findings).toEqual([]);
  return edgeLines(net, cutContour(net, stretches, material, {}), stretches);
}

function dot(x: number, y: number): Path {
  return { closed: false, vertices: [{ x, y, bulge: 0 }] };
}

// 400 x 300 at (100, 0): a seam of 10 below, bound to the right, tucked by 30 above, turned by 25 left.
const shape = oblong(100, 0, 500, 300);
const sides = linesOf(shape, [0, 400, 700, 1100], ['seam', 'bound', 'tuck', 'turned']);

function slit(drawn: Path, depth = material.notchDepth): Notch {
  return slitOf(drawn, sides, depth);
}

function expectSlit({ from, to }: Notch, expected: Notch): void {
  expect(from.x).toBeCloseTo(expected.from.x, 9);
  expect(from.y).toBeCloseTo(expected.from.y, 9);
  expect(to.x).toBeCloseTo(expected.to.x, 9);
  expect(to.y).toBeCloseTo(expected.to.y, 9);
}

describe('notches drawn as points', () => {
  // Straight out by the allowance, straight in by the material's depth of 5.
  it.each([
    ['a seam', dot(250, 0), { from: { x: 250, y: -10 }, to: { x: 250, y: -5 } }],
    ['a tuck', dot(250, 300), { from: { x: 250, y: 330 }, to: { x: 250, y: 325 } }],
    ['a turned edge', dot(100, 200), { from: { x: 75, y: 200 }, to: { x: 80, y: 200 } }],
    ['a bound edge', dot(500, 150), { from: { x: 500, y: 150 }, to: { x: 495, y: 150 } }],
  ])('stand on the cut line of %s', (_, drawn, expected) => {
    expectSlit(slit(drawn), expected);
  });

  // A seam of 10 hides 10; tape hides what the shop says it does.
  it('go no deeper than what the edge hides', () => {
    expectSlit(slit(dot(250, 0), 14), { from: { x: 250, y: -10 }, to: { x: 250, y: 0 } });
    expect(slit(dot(500, 150), 14).to).toEqual({ x: 486, y: 150 });
  });

  // [D] Two turned edges meet at (500, 0): the allowance below ends on y = x - 500. Straight below (490, 0)
  // that is (490, -10), and not the turned edge's own cut line, 25 below.
  it('stand on what ends an allowance near a corner', () => {
    const turned = linesOf(shape, [0, 700], ['turned', 'bound']);
    const { from, to } = slitOf(dot(490, 0), turned, material.notchDepth);
    expect(from.x).toBeCloseTo(490, 9);
    expect(from.y).toBeCloseTo(-10, 9);
    expect(to.y).toBeCloseTo(-5, 9);
  });

  // A tip of 90 degrees, bound: half way between its sides.
  it('at a corner point half way between its sides', () => {
    const { from, to } = slitOf(dot(500, 300), linesOf(shape, [0, 700], ['bound']), 5);
    expect(from).toEqual({ x: 500, y: 300 });
    expect(to.x).toBeCloseTo(500 - 5 * Math.SQRT1_2, 9);
    expect(to.y).toBeCloseTo(300 - 5 * Math.SQRT1_2, 9);
  });

  // A tongue 6 wide cannot take a slit of 5 from one side and stay whole: half of it is cut.
  it('leave half of a narrow tongue', () => {
    const tongue = linesOf(oblong(0, 0, 300, 6), [0, 303], ['bound']);
    expect(slitOf(dot(150, 0), tongue, 8).to).toEqual({ x: 150, y: 3 });
  });
});

describe('notches drawn as lines', () => {
  // The depth is the material's 5, however long the line is.
  const straight = { from: { x: 200, y: -10 }, to: { x: 200, y: -5 } };
  it.each([
    ['from the outline inwards', line(200, 0, 200, 8)],
    ['from inside outwards', line(200, 8, 200, 0)],
    ['longer than a notch is deep', line(200, 0, 200, 29)],
    ['shorter than a notch is deep', line(200, 0, 200, 2)],
    // The outer end lies further from the outline than the inner one, and is the outer one nevertheless.
    ['across the outline', line(200, 8, 200, -25)],
    ['in the allowance', line(200, -2, 200, -9)],
    ['beginning a millimetre inside', line(200, 1, 200, 9)],
    ['along the edge, which is no way in', line(200, 0, 215, 1)],
  ])('%s say where, and not how deep', (_, drawn) => {
    expectSlit(slit(drawn), straight);
  });

  it('go no deeper than what the edge hides', () => {
    expectSlit(slit(line(200, 0, 200, 20), 14), {
      from: { x: 200, y: -10 },
      to: { x: 200, y: 0 },
    });
    expect(slit(line(500, 150, 480, 150), 14).to).toEqual({ x: 486, y: 150 });
  });

  // 3-4-5: of 5 mm along the line, 3 go aside and 4 go in.
  it('say which way the slit runs', () => {
    expectSlit(slit(line(200, 0, 206, 8)), { from: { x: 200, y: -10 }, to: { x: 203, y: -6 } });
  });

  // Aslant the net line is further away than 10: at 12.5 along the line, where 7.5 go aside and 10 in.
  it('aslant end on the net line, too', () => {
    expectSlit(slit(line(200, 0, 206, 8), 14), {
      from: { x: 200, y: -10 },
      to: { x: 207.5, y: 0 },
    });
  });
});

describe('drill marks', () => {
  it('on the outline move out to the cut line', () => {
    for (const off of [0, 0.9, -0.9]) {
      const { vertices } = drillMark(dot(250, off), sides);
      expect(vertices).toHaveLength(1);
      expect(vertices[0]!.x).toBeCloseTo(250, 9);
      expect(vertices[0]!.y).toBeCloseTo(-10, 9);
    }
  });

  it('further in than the trace tolerance stay', () => {
    const drawn = dot(250, 1.1);
    expect(drillMark(drawn, sides)).toBe(drawn);
  });
});

const someLines = fc
  .tuple(
    outline,
    fc.uniqueArray(fc.integer({ min: 1, max: 20 }), { minLength: 2, maxLength: 6 }),
    fc.shuffledSubarray(['seam', 'tuck', 'turned', 'bound', 'raw'] as const, { minLength: 2 }),
  )
  .map(([path, cuts, kinds]) => {
    const length = pathLength(path);
    const starts = cuts.sort((a, b) => a - b).map((cut) => (cut / 21) * length);
    return unlessRefused(() => linesOf(path, starts, kinds));
  })
  .filter((lines) => lines !== null);

/** An inside corner may come so near to the end of a wide allowance that the two cannot both be cut. */
function unlessRefused<T>(make: () => T): T | null {
  try {
    return make();
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

const share = fc.double({ min: 0, max: 0.999, noNaN: true });

describe('laws, on random outlines', () => {
  it('every notch begins on the cut contour and ends inside it', () => {
    fc.assert(
      fc.property(someLines, share, fc.boolean(), (lines, at, isCorner) => {
        const net = lines.net().path;
        const p = placeAt(net, at, isCorner);
        const { from, to } = slitOf(dot(p.x, p.y), lines, material.notchDepth);
        expect(nearestOnPath(lines.cut().path, from).distance).toBeLessThan(1e-6);
        expect(placeInPath(lines.cut().path, to)).toBe('inside');
      }),
    );
  });

  it('drill marks on the outline come to lie on the cut contour', () => {
    fc.assert(
      fc.property(someLines, share, fc.boolean(), (lines, at, isCorner) => {
        const p = placeAt(lines.net().path, at, isCorner);
        const { vertices } = drillMark(dot(p.x, p.y), lines);
        expect(nearestOnPath(lines.cut().path, vertices[0]!).distance).toBeLessThan(1e-6);
      }),
    );
  });
});

/** A point at a share of the outline's length, or the corner before it. */
function placeAt(net: Path, at: number, isCorner: boolean): Point {
  const { station, point } = alongPath(net, at * pathLength(net));
  return isCorner ? segmentsOf(net)[station.segment]!.from : point;
}
