import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { centreOf } from '../../../src/geometry/paths/box.ts';
import { boxOfPath, circle } from '../../../src/geometry/paths/path.ts';
import type { Cut } from '../../../src/knife/cuts.ts';
import { cuttingOrder } from '../../../src/knife/order/order.ts';
import {
  laidInARow,
  layOf,
  longBay,
  notchOn,
  part,
  point,
  rectangle,
  somePartsArbitrary,
} from '../sample-parts.ts';

function words(cuts: readonly Cut[]): string[] {
  return cuts.map(({ label, kind }) => `${label} ${kind}`);
}

const tile = rectangle(100, 100);

describe('the cutting order', () => {
  it('takes notches and inner contours on the way to the outline, which comes last', () => {
    const mat = part('mat', rectangle(400, 200), {
      notches: [notchOn(rectangle(400, 200), 1), notchOn(rectangle(400, 200), 3)],
      inner: [
        { role: 'HOLE', path: circle(point(300, 100), 20) },
        { role: 'HOLE', path: circle(point(100, 100), 20) },
      ],
    });
    const lay = layOf([mat], [{ label: 'mat', x: 20, y: 30, rotation: 0 }]);
    const [bite] = cuttingOrder(lay, [mat], longBay);
    // All on one level, from the left: notch, hole, hole, notch, and the corner nearest to that.
    expect(bite!.cuts.map(({ kind, path }) => [kind, centreOf(boxOfPath(path)).x])).toEqual([
      ['notch', 23],
      ['inner', 120],
      ['inner', 320],
      ['notch', 417],
      ['outline', 220],
    ]);
    expect(bite!.cuts.at(-1)!.path.vertices[0]!.x).toBe(420);
  });

  it('takes a small part before a large one, but not where that costs over 100 mm of travel', () => {
    const orderAt = (x: number): string[] => {
      const parts = [part('large', rectangle(300, 300)), part('small', tile)];
      const at = [
        { label: 'large', x: 20, y: 20, rotation: 0 },
        { label: 'small', x, y: 20, rotation: 0 },
      ];
      return words(cuttingOrder(layOf(parts, at), parts, longBay)[0]!.cuts);
    };
    // From the corner at 0, 0 the large one lies nearer. Small first costs the way there and back less
    // the way there: next to it little, far off a lot.
    expect(orderAt(330)).toEqual(['small outline', 'large outline']);
    expect(orderAt(1500)).toEqual(['large outline', 'small outline']);
  });

  it('goes to the nearest part next', () => {
    const parts = ['a', 'b', 'c', 'd'].map((label) => part(label, tile));
    const at = [600, 300, 30, 900].map((x, i) => ({ label: 'abcd'[i]!, x, y: 30, rotation: 0 }));
    const [bite] = cuttingOrder(layOf(parts, at), parts, longBay);
    expect(words(bite!.cuts)).toEqual(['c outline', 'b outline', 'a outline', 'd outline']);
  });

  it('takes a part in a cutout before the part around it, however near that is', () => {
    const ring = part('ring', rectangle(600, 400), {
      inner: [{ role: 'CUTOUT', path: rectangle(300, 300, 250, 50) }],
    });
    const middle = part('middle', rectangle(200, 200), {
      inner: [{ role: 'CUTOUT', path: rectangle(120, 120, 40, 40) }],
    });
    const core = part('core', tile);
    const parts = [ring, middle, core];
    const lay = layOf(parts, [
      { label: 'ring', x: 20, y: 30, rotation: 0 },
      { label: 'middle', x: 320, y: 130, rotation: 0 },
      { label: 'core', x: 370, y: 180, rotation: 0 },
    ]);
    const [bite] = cuttingOrder(lay, parts, longBay);
    expect(words(bite!.cuts)).toEqual([
      'core outline',
      'middle inner',
      'middle outline',
      'ring inner',
      'ring outline',
    ]);
  });

  it('goes from bite to bite, each begun at the first part that the bed before did not hold', () => {
    const parts = ['a', 'b', 'c'].map((label) => part(label, tile));
    const at = [4000, 20, 900].map((x, i) => ({ label: 'abc'[i]!, x, y: 30, rotation: 0 }));
    const bites = cuttingOrder(layOf(parts, at, { biteLength: 1000 }), parts, longBay);
    expect(bites.map(({ start, cuts }) => [start, words(cuts)])).toEqual([
      [0, ['b outline', 'c outline']],
      [4000, ['a outline']],
    ]);
  });

  it('starts a bite where the knife was left over the bed', () => {
    const parts = ['a', 'b', 'c'].map((label) => part(label, tile));
    const at = [700, 1020, 1720].map((x, i) => ({ label: 'abc'[i]!, x, y: 30, rotation: 0 }));
    const bites = cuttingOrder(layOf(parts, at, { biteLength: 1000 }), parts, longBay);
    expect(words(bites[1]!.cuts)).toEqual(['c outline', 'b outline']);
  });

  it('leaves out the inner contours that are left to the bench', () => {
    const mat = part('mat', tile, { inner: [{ role: 'HOLE', path: circle(point(50, 50), 3) }] });
    const lay = layOf([mat], [{ label: 'mat', x: 20, y: 30, rotation: 0 }]);
    expect(words(cuttingOrder(lay, [mat], longBay)[0]!.cuts)).toEqual(['mat outline']);
  });

  it('cuts every part once, its outline last', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const cuts = cuttingOrder(laidInARow(parts, longBay), parts, longBay).flatMap(
          (b) => b.cuts,
        );
        for (const { label, notches } of parts) {
          const own = cuts.filter((cut) => cut.label === label).map(({ kind }) => kind);
          expect(own.filter((kind) => kind === 'outline')).toHaveLength(1);
          expect(own.at(-1)).toBe('outline');
          expect(own.filter((kind) => kind === 'notch')).toHaveLength(notches.length);
        }
      }),
      { numRuns: 50 },
    );
  });
});
