import { area as geodesicArea } from '@turf/area';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  areaOf,
  counterClockwise,
  isCounterClockwise,
  signedArea,
} from '../../../src/geometry/paths/area.ts';
import { flatten } from '../../../src/geometry/paths/flatten.ts';
import { circle, pathLength, polyline, reversePath } from '../../../src/geometry/paths/path.ts';
import { transformPath, translation } from '../../../src/geometry/paths/transform.ts';
import { isometry, outline } from '../arbitrary.ts';

describe('area and length', () => {
  // A surveying school's worked example [S]: shoelace 33350.0, perimeter 751.7.
  it('agrees with a surveyor’s worked example', () => {
    const field = polyline(
      [
        { x: 60, y: 60 },
        { x: 280, y: 70 },
        { x: 290, y: 220 },
        { x: 50, y: 200 },
      ],
      true,
    );
    expect(signedArea(field)).toBeCloseTo(33350, 6);
    expect(pathLength(field)).toBeCloseTo(751.7, 1);
  });

  // A surveying course's traverse [S]: twice the area 205871.5 (northings and eastings).
  it('agrees with a surveying course’s traverse', () => {
    const stations = [
      [500, 2000],
      [323.614, 1561.426],
      [526.996, 1488.321],
      [719.336, 1686.956],
    ];
    const plot = polyline(
      stations.map(([n, e]) => ({ x: e!, y: n! })),
      true,
    );
    expect(Math.abs(2 * areaOf(plot) - 205871.5)).toBeLessThan(0.5);
  });

  // Circular segments on a chord of 100 [D].
  it.each([
    [1, 3926.991],
    [0.41421356, 1426.991],
    [Math.tan(Math.PI / 6), 2047.28],
  ])('a bulge of %f cuts off %f mm2', (bulge, expected) => {
    const segment = {
      closed: true,
      vertices: [
        { x: 0, y: 0, bulge },
        { x: 100, y: 0, bulge: 0 },
      ],
    };
    expect(Math.abs(signedArea(segment) - expected)).toBeLessThan(0.005);
  });

  it('a circle of radius 50 has pi r^2 and 2 pi r', () => {
    expect(signedArea(circle({ x: 3, y: 4 }, 50))).toBeCloseTo(Math.PI * 2500, 8);
    expect(pathLength(circle({ x: 3, y: 4 }, 50))).toBeCloseTo(Math.PI * 100, 8);
  });

  // @turf/area measures on the globe; about the equator a degree is the same length both ways, so a
  // small outline mapped there must agree with the plane.
  it('agrees with an independent library on flattened outlines', () => {
    const metresPerDegree = (Math.PI * 6371008.8) / 180;
    fc.assert(
      fc.property(outline, (path) => {
        const points = flatten(path, 0.01).map(({ x, y }) => [
          x / metresPerDegree / 1000,
          y / metresPerDegree / 1000,
        ]);
        const ring = [...points, points[0]!];
        const metres = geodesicArea({ type: 'Polygon', coordinates: [ring] });
        expect((metres * 1e6) / areaOf(path)).toBeCloseTo(1, 3);
      }),
    );
  });
});

describe('laws of area', () => {
  it('turns, shifts and mirrors keep area and length, and an outer contour stays counter-clockwise', () => {
    fc.assert(
      fc.property(outline, isometry, (path, transform) => {
        const moved = transformPath(transform, path);
        expect(signedArea(moved) / signedArea(path)).toBeCloseTo(1, 9);
        expect(pathLength(moved) / pathLength(path)).toBeCloseTo(1, 9);
      }),
    );
  });

  it('running the other way turns the sign', () => {
    fc.assert(
      fc.property(outline, (path) => {
        expect(signedArea(reversePath(path))).toBeCloseTo(-signedArea(path), 6);
        expect(reversePath(reversePath(path))).toEqual(path);
        expect(isCounterClockwise(counterClockwise(reversePath(path)))).toBe(true);
      }),
    );
  });

  it('far from the origin nothing is lost', () => {
    const near = circle({ x: 0, y: 0 }, 100);
    const far = transformPath(translation({ x: 1e6, y: -1e6 }), near);
    expect(signedArea(far)).toBeCloseTo(signedArea(near), 4);
  });
});
