import { describe, expect, it } from 'vitest';
import { circle } from '../../src/geometry/paths/path.ts';
import type { Lay } from '../../src/lay/lay.ts';
import { insideOf } from '../../src/lay/inside.ts';
import { material, oblong, partOf, plainRules, roll } from './fixtures.ts';

function laid(places: readonly (readonly [label: string, x: number, y: number])[]): Lay {
  const placements = places.map(([label, x, y]) => ({ label, x, y, rotation: 270 }));
  return { material, roll, rules: plainRules, placements, length: 0, density: 0 };
}

const plate = partOf('plate', oblong(800, 800, -400, -400), [
  circle({ x: -150, y: 0 }, 100),
  circle({ x: 200, y: 0 }, 120),
]);
const ring = partOf('ring', circle({ x: 0, y: 0 }, 100), [circle({ x: 0, y: 0 }, 60)]);
const disc = partOf('disc', circle({ x: 0, y: 0 }, 40));
const square = partOf('square', oblong(20, 20, -10, -10));

// Turned by 270 degrees the plate's cutouts lie at (0, 150) and (0, -200) from its origin.
const lay = laid([
  ['plate', 500, 500],
  ['ring', 500, 300],
  ['disc', 500, 300],
  ['square', 1000, 500],
]);

describe('insideOf', () => {
  it('names the innermost part around each, and leaves out the rest', () => {
    expect([...insideOf(lay, [plate, ring, disc, square])]).toEqual([
      ['ring', 'plate'],
      ['disc', 'ring'],
    ]);
  });

  it('a part that fills its cutout lies in it', () => {
    const plug = partOf('plug', circle({ x: 0, y: 0 }, 100));
    expect(
      insideOf(
        laid([
          ['plate', 500, 500],
          ['plug', 500, 650],
        ]),
        [plate, plug],
      ).get('plug'),
    ).toBe('plate');
  });

  it('a part in the box of a cutout but not in it is outside', () => {
    const hook = partOf('hook', oblong(300, 300), [
      {
        closed: true,
        vertices: [
          { x: 20, y: 20, bulge: 0 },
          { x: 280, y: 20, bulge: 0 },
          { x: 20, y: 280, bulge: 0 },
        ],
      },
    ]);
    // Turned by 270 degrees (x, y) goes to (y, -x): the far corner of the triangle's box is (280, -280).
    const places = laid([
      ['hook', 100, 800],
      ['square', 100 + 265, 800 - 265],
    ]);
    expect(insideOf(places, [hook, square]).size).toBe(0);
  });
});
