import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signedArea } from '../../src/geometry/paths/area.ts';
import { nearestOnPath } from '../../src/geometry/measuring/nearest.ts';
import { polyline } from '../../src/geometry/paths/path.ts';
import { transformPath, transformPoint } from '../../src/geometry/paths/transform.ts';
import { faceDown } from '../../src/lay/face-down.ts';
import { placementTransform } from '../../src/lay/lay.ts';
import {
  edgesOf,
  laidInARow,
  layOf,
  longBay,
  notchOn,
  part,
  point,
  somePartsArbitrary,
} from '../knife/sample-parts.ts';

/** A right triangle with its right angle at its own origin: the simplest thing that has a hand. */
const triangle = polyline([point(0, 0), point(300, 0), point(0, 100)], true);

describe('a lay turned face down', () => {
  it('has what lay at y at the width less y, worked by hand', () => {
    const parts = [part('a', triangle, { notches: [notchOn(triangle, 0)], pileDeg: 30 })];
    const lay = layOf(parts, [{ label: 'a', x: 50, y: 40, rotation: 0 }]);
    const down = faceDown(lay, parts);
    expect(down.lay.placements).toEqual([
      { label: 'a', x: 50, y: lay.roll.width - 40, rotation: 0 },
    ]);
    const [one] = down.parts;
    const corners = one!.cut.vertices.map(({ x, y }) => [x, y]);
    expect(corners).toEqual([
      [0, 0],
      [0, -100],
      [300, 0],
    ]);
    expect(one!.pileDeg).toBe(330);
  });

  it('is the mirror image of itself, contour by contour, and twice turned it is as it was', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (some) => {
        const parts = some.map((one) => ({ ...one, edges: edgesOf(one.cut) }));
        const lay = laidInARow(parts, longBay);
        const down = faceDown(lay, parts);
        for (const [i, placement] of lay.placements.entries()) {
          const own = parts.find(({ label }) => label === placement.label)!;
          const image = down.parts.find(({ label }) => label === placement.label)!;
          const place = placementTransform(placement);
          const placeImage = placementTransform(down.lay.placements[i]!);
          const outline = transformPath(placeImage, image.cut);
          expect(signedArea(outline)).toBeCloseTo(signedArea(own.cut), 3);
          for (const vertex of own.cut.vertices) {
            const { x, y } = transformPoint(place, vertex);
            const { distance } = nearestOnPath(outline, { x, y: lay.roll.width - y });
            expect(distance).toBeLessThan(1e-6);
          }
          // Edges run along the outline one after the other, as before.
          for (const [k, edge] of image.edges.entries()) {
            const next = image.edges[(k + 1) % image.edges.length]!;
            const { x, y } = edge.path.vertices.at(-1)!;
            expect(next.path.vertices[0]).toMatchObject({ x, y });
          }
        }
        const twice = faceDown(down.lay, down.parts);
        for (const [i, { x, y }] of twice.lay.placements.entries()) {
          expect(x).toBeCloseTo(lay.placements[i]!.x, 9);
          expect(y).toBeCloseTo(lay.placements[i]!.y, 9);
        }
        expect(twice.parts.map(({ cut }) => cut)).toEqual(parts.map(({ cut }) => cut));
      }),
      { numRuns: 50 },
    );
  });
});
