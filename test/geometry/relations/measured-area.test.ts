import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { closeness } from '../../../src/geometry/relations/closeness.ts';
import { placeInPath } from '../../../src/geometry/relations/contains.ts';
import {
  crossingsWith,
  pathCrossings,
  segmentCrossings,
} from '../../../src/geometry/relations/crossings.ts';
import { placeInArea } from '../../../src/geometry/relations/measured-area.ts';
import { measurePath } from '../../../src/geometry/measuring/measured-path.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import { circle, segmentsOf } from '../../../src/geometry/paths/path.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { pathSeparation } from '../../../src/geometry/relations/separation.ts';
import { translation, transformPath } from '../../../src/geometry/paths/transform.ts';
import { outline } from '../arbitrary.ts';

const offset = fc.double({ min: -900, max: 900, noNaN: true });

/** A path near to another: moved from the other's first corner by some hundred millimetres. */
const pair: fc.Arbitrary<[Path, Path]> = fc
  .tuple(outline, outline, offset, offset)
  .map(([a, b, x, y]) => {
    const [from, to] = [b.vertices[0]!, a.vertices[0]!];
    return [a, transformPath(translation({ x: to.x - from.x + x, y: to.y - from.y + y }), b)];
  });

describe('a path made ready for many questions', () => {
  it('answers as placeInPath does', () => {
    fc.assert(
      fc.property(pair, fc.constantFrom(1e-6, 20), ([a, b], tolerance) => {
        const area = measurePath(a);
        for (const point of [...a.vertices, ...b.vertices]) {
          expect(placeInArea(area, point, tolerance)).toBe(placeInPath(a, point, tolerance));
        }
      }),
    );
  });

  it('is met where some pair of sides meets', () => {
    fc.assert(
      fc.property(pair, ([a, b]) => {
        const each = segmentsOf(b).flatMap((one) =>
          segmentsOf(a).flatMap((other) => segmentCrossings(one, other)),
        );
        expect(crossingsWith(measurePath(a), b)).toEqual(each);
        expect(pathCrossings(b, a)).toEqual(each);
      }),
    );
  });
});

describe('closeness', () => {
  it('is as pathSeparation says, at a place of the path that is so near', () => {
    fc.assert(
      fc.property(pair, fc.constantFrom(30, 2000), ([a, b], within) => {
        const found = closeness(b, measurePath(a), within);
        const expected = pathSeparation(b, a, within);
        expect(found?.distance ?? Infinity).toBeCloseTo(expected, 9);
        if (found === null) return;
        expect(nearestOnPath(b, found.at).distance).toBeLessThan(1e-6);
        // On two curves that face each other the place may be a flattened corner off.
        expect(nearestOnPath(a, found.at).distance - found.distance).toBeLessThan(0.11);
      }),
    );
  });

  it('finds the place between two circles', () => {
    const found = closeness(
      circle({ x: 0, y: 0 }, 10),
      measurePath(circle({ x: 30, y: 0 }, 8)),
      20,
    );
    expect(found).toEqual({ distance: 12, at: { x: 10, y: 0 } });
  });
});
