import { describe, expect, it } from 'vitest';
import { kindsOf } from '../../src/lay/kinds.ts';
import { oblong, partOf, plainRules } from './fixtures.ts';

const floor = oblong(100, 50, 10, 20);
const parts = [
  partOf('b.1', floor, [], { order: 'second', set: 1 }),
  partOf('b.3', floor, [], { order: 'first', set: 2 }),
  partOf('b.2', floor, [], { order: 'first', set: 1 }),
  partOf('a', oblong(100, 50)),
  partOf('c', floor, [], { pileDeg: 0 }),
];

describe('kindsOf', () => {
  it('parts with the same contours and turns are one kind, in the order of their sets', () => {
    const labels = kindsOf(parts, plainRules, 1000).map((kind) =>
      kind.parts.map(({ label }) => label),
    );
    expect(labels).toEqual([['a'], ['b.2', 'b.3', 'b.1'], ['c']]);
  });

  it('does not depend on the order in which the parts come', () => {
    expect(kindsOf(parts.toReversed(), plainRules, 1000)).toEqual(kindsOf(parts, plainRules, 1000));
  });

  it('keeps in the strip the contour without the gap, turned about its own origin', () => {
    const [, kind] = kindsOf(parts, { ...plainRules, gap: 8 }, 1000);
    // Pile at 90 degrees, one way: turned by 270, (x, y) lies at (y, -x).
    expect(kind!.shape.rotations).toEqual([270]);
    const [box] = kind!.shape.kept!;
    expect(box!.minX).toBeCloseTo(20, 9);
    expect(box!.maxX).toBeCloseTo(70, 9);
    expect(box!.minY).toBeCloseTo(-110, 9);
    expect(box!.maxY).toBeCloseTo(-10, 9);
  });

  it('leaves out the turns in which a part fits neither the roll nor a bite', () => {
    const rules = { ...plainRules, turns: 'any' as const };
    const long = partOf('long', oblong(300, 50), [], { pileDeg: 0 });
    const [within] = kindsOf([long], rules, 200);
    expect(within!.shape.rotations).toEqual([0, 180]);
    const [shorter] = kindsOf([long], { ...rules, biteLength: 200 }, 1000);
    expect(shorter!.shape.rotations).toEqual([90, 270]);
  });
});
