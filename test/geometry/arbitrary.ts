import fc from 'fast-check';
import type { Path } from '../../src/geometry/paths/path.ts';
import type { Point } from '../../src/geometry/paths/point.ts';
import type { Transform } from '../../src/geometry/paths/transform.ts';
import { compose, reflection, rotation, translation } from '../../src/geometry/paths/transform.ts';

const coordinate = fc.double({ min: -2000, max: 2000, noNaN: true });
export const point: fc.Arbitrary<Point> = fc.record({ x: coordinate, y: coordinate });
export const angle = fc.double({ min: -720, max: 720, noNaN: true });

/** Turns, shifts and mirrors: what may happen to a piece. */
export const isometry: fc.Arbitrary<Transform> = fc
  .tuple(angle, point, fc.option(fc.tuple(point, angle), { nil: null }))
  .map(([deg, by, mirror]) => {
    const moved = compose(translation(by), rotation(deg));
    return mirror === null ? moved : compose(reflection(...mirror), moved);
  });

/**
 * Simple closed counter-clockwise outlines: corners at growing angles round a centre, each side
 * straight or bulged so little that it stays in its own sector.
 */
export const outline: fc.Arbitrary<Path> = fc
  .tuple(
    point,
    fc.array(
      fc.record({
        radius: fc.double({ min: 200, max: 400, noNaN: true }),
        bulge: fc.oneof(
          fc.constant(0),
          fc.double({ min: -0.08, max: 0.25, noNaN: true }).map((b) => b + 0),
        ),
      }),
      { minLength: 5, maxLength: 14 },
    ),
  )
  .map(([centre, corners]) => ({
    closed: true,
    vertices: corners.map(({ radius, bulge }, i) => {
      const turn = (2 * Math.PI * i) / corners.length;
      return {
        x: centre.x + radius * Math.cos(turn),
        y: centre.y + radius * Math.sin(turn),
        bulge,
      };
    }),
  }));
