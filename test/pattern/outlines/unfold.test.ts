import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf, isCounterClockwise } from '../../../src/geometry/paths/area.ts';
import { selfCrossings } from '../../../src/geometry/relations/crossings.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import type { Path, Vertex } from '../../../src/geometry/paths/path.ts';
import { circle, pathLength, polyline, segmentsOf } from '../../../src/geometry/paths/path.ts';
import { pointAt } from '../../../src/geometry/paths/segment.ts';
import {
  reflection,
  transformPath,
  transformPoint,
} from '../../../src/geometry/paths/transform.ts';
import type { Follows, Role } from '../../../src/pattern/layers.ts';
import type { Feature } from '../../../src/pattern/feature.ts';
import { pieceOf } from '../../../src/pattern/piece.ts';
import { mirrorTolerance, unfold } from '../../../src/pattern/outlines/unfold.ts';
import { isometry } from '../../geometry/arbitrary.ts';

const where = { file: 'test.dxf', piece: 'lid' };
const upright = { from: { x: 0, y: -500 }, to: { x: 0, y: 500 } };
const mirror = reflection({ x: 0, y: 0 }, 90);

function feature(role: Role, path: Path, follows: Follows | null = null): Feature {
  return { role, follows, when: [], name: null, path, line: 7 };
}

function open(...vertices: [x: number, y: number, bulge?: number][]): Path {
  return {
    closed: false,
    vertices: vertices.map(([x, y, bulge = 0]): Vertex => ({ x, y, bulge })),
  };
}

function unfolded(...features: Feature[]): Feature[] {
  const { features: whole, findings } = unfold(features, upright, where);
  expect(findings).toEqual([]);
  return whole;
}

/** Half an outline to the right of x = 0, its ends on it: rising, with arcs that stay in their slab. */
const half: fc.Arbitrary<Path> = fc
  .array(
    fc.record({
      x: fc.double({ min: 40, max: 400, noNaN: true }),
      bulge: fc.oneof(fc.constant(0), fc.double({ min: 0.01, max: 0.2, noNaN: true })),
    }),
    { minLength: 2, maxLength: 8 },
  )
  .map((corners) => {
    const at = (i: number): number => i * 200;
    const inner = corners.map(({ x }, i): Vertex => ({ x, y: at(i + 1), bulge: 0 }));
    const first: Vertex = { x: 0, y: at(1), bulge: 0 };
    const last: Vertex = { x: 0, y: at(corners.length), bulge: 0 };
    return { closed: false, vertices: [first, ...inner, last] };
  })
  .chain((path) =>
    fc.double({ min: 0, max: 0.4, noNaN: true }).map((bulge) => ({
      ...path,
      // The two level sides at the ends may bulge outwards.
      vertices: path.vertices.map((vertex, i) =>
        i === 0 || i === path.vertices.length - 2 ? { ...vertex, bulge } : vertex,
      ),
    })),
  );

/** The half closed along the mirror line. */
function closedAlong(path: Path): Path {
  return { closed: true, vertices: path.vertices };
}

/** Corners and quarter points of each lie on the other. */
function sameCurve(a: Path, b: Path): boolean {
  const liesOn = (path: Path, on: Path): boolean =>
    segmentsOf(path).every((segment) =>
      [0, 0.25, 0.5, 0.75].every((t) => nearestOnPath(on, pointAt(segment, t)).distance < 1e-6),
    );
  return liesOn(a, b) && liesOn(b, a);
}

describe('half an outline', () => {
  it('unfolds to one closed contour of twice the area that is its own mirror image', () => {
    fc.assert(
      fc.property(half, fc.boolean(), (path, closed) => {
        const drawn = closed ? closedAlong(path) : path;
        const [whole, ...rest] = unfolded(feature('OUTLINE', drawn)).map((one) => one.path);
        expect(rest).toEqual([]);
        expect(whole!.closed).toBe(true);
        expect(areaOf(whole!) / areaOf(closedAlong(path))).toBeCloseTo(2, 9);
        expect(pathLength(whole!) / pathLength(path)).toBeCloseTo(2, 9);
        expect(sameCurve(whole!, transformPath(mirror, whole!))).toBe(true);
        expect(selfCrossings(whole!)).toEqual([]);
        const arcs = (one: Path): number => one.vertices.filter(({ bulge }) => bulge !== 0).length;
        expect(arcs(whole!)).toBe(2 * arcs(path));
      }),
    );
  });

  it('wherever the mirror line lies and whichever side is drawn', () => {
    fc.assert(
      fc.property(half, isometry, (path, move) => {
        const line = {
          from: transformPoint(move, upright.from),
          to: transformPoint(move, upright.to),
        };
        const moved = unfold([feature('OUTLINE', transformPath(move, path))], line, where);
        expect(moved.findings).toEqual([]);
        const [whole] = unfolded(feature('OUTLINE', path));
        expect(sameCurve(moved.features[0]!.path, transformPath(move, whole!.path))).toBe(true);
      }),
    );
  });

  it('is joined exactly on the line though it was drawn a little off it', () => {
    const path = open([0.06, 0], [300, 0, 0.3], [300, 200], [-0.08, 200]);
    const [whole] = unfolded(feature('OUTLINE', path));
    // Two corners on the line, and on each side the two that were drawn.
    expect(whole!.path.vertices.map(({ x }) => x)).toEqual([0, 300, 300, 0, -300, -300]);
    expect(whole!.path.vertices.map(({ bulge }) => bulge)).toEqual([0, 0.3, 0, 0, 0.3, 0]);
    expect(isCounterClockwise(whole!.path)).toBe(true);
  });

  it.each([
    ['ends beside the line', open([0, 0], [300, 0], [300, 200], [0.2, 200]), 'half-open', 0.2],
    [
      'closed without a side along it',
      polyline(
        [
          { x: 5, y: 0 },
          { x: 99, y: 0 },
          { x: 99, y: 99 },
        ],
        true,
      ),
      'half-open',
      5,
    ],
    ['lies on both sides', open([0, 0], [300, 0], [-300, 200], [0, 200]), 'half-crosses', -300],
  ])('that %s is refused with the place', (_, path, rule, x) => {
    const { findings } = unfold([feature('OUTLINE', path)], upright, where);
    expect(findings).toMatchObject([{ severity: 'error', rule, where: { line: 7, at: { x } } }]);
    expect(mirrorTolerance).toBeLessThan(0.2);
  });
});

describe('what is drawn on half a piece', () => {
  it('gets an image beside the line', () => {
    const [own, image] = unfolded(feature('HOLE', circle({ x: 80, y: 30 }, 5)));
    expect(own!.path).toEqual(circle({ x: 80, y: 30 }, 5));
    expect(sameCurve(image!.path, circle({ x: -80, y: 30 }, 5))).toBe(true);
  });

  it('is one line where it ends on the mirror line, through it', () => {
    const [stitch, ...rest] = unfolded(feature('STITCH', open([200, 40, 0.1], [100, 60], [0, 60])));
    expect(rest).toEqual([]);
    expect(stitch!.path.vertices).toEqual([
      { x: 200, y: 40, bulge: 0.1 },
      { x: 100, y: 60, bulge: 0 },
      { x: 0, y: 60, bulge: 0 },
      { x: -100, y: 60, bulge: 0.1 },
      { x: -200, y: 40, bulge: 0 },
    ]);
    const [other] = unfolded(feature('STITCH', open([0, 60], [100, 60, -0.1], [200, 40])));
    expect(sameCurve(other!.path, stitch!.path)).toBe(true);
  });

  it('a cutout across the line is drawn half and comes out whole', () => {
    const slot = polyline(
      [
        { x: 0, y: 10 },
        { x: 40, y: 10 },
        { x: 40, y: 30 },
        { x: 0, y: 30 },
      ],
      true,
    );
    const [cutout, ...rest] = unfolded(feature('CUTOUT', slot));
    expect(rest).toEqual([]);
    expect(areaOf(cutout!.path)).toBeCloseTo(80 * 20, 9);
  });

  it('is there once where it lies along the line', () => {
    expect(unfolded(feature('FOLD', open([0, -50], [0, 50])))).toHaveLength(1);
    expect(unfolded(feature('NOTCH', open([0, 5])))).toHaveLength(1);
  });

  it('stays on its side where a suffix says whom it follows', () => {
    const pad = feature('PAD', circle({ x: 90, y: 0 }, 20), 'DRIVER');
    expect(unfolded(pad)).toEqual([pad]);
  });
});

describe('a piece that is drawn half', () => {
  const sheet = {
    side: 'left' as const,
    outline: 'body' as const,
    material: 'carpet',
    quantity: 1,
    at: [0, 0] as [number, number],
    half: true,
  };
  const draw = (layer: string, path: Path) => ({ kind: 'path' as const, layer, line: 3, path });
  const outline = draw('OUTLINE', open([0, 0], [300, 0], [300, 200], [0, 200]));

  it('needs its mirror line', () => {
    const { piece, findings } = pieceOf('lid', sheet, [outline], new Map(), 'test.dxf');
    expect(piece).toBeNull();
    expect(findings.map(({ rule }) => rule)).toContain('half-axis');
  });

  it('takes AXIS as the vehicle’s centreline only where it lies across it', () => {
    const axis = draw('AXIS', open([0, -50], [0, 250]));
    const read = (side: 'left' | 'centre') =>
      pieceOf('lid', { ...sheet, side }, [outline, axis], new Map(), 'test.dxf').piece;
    expect(areaOf(read('left')!.outline)).toBe(600 * 200);
    expect(read('left')!.axis).toBeNull();
    expect(read('centre')!.axis).toEqual({
      from: { x: 0, y: -50 },
      to: { x: 0, y: 250 },
    });
  });
});
