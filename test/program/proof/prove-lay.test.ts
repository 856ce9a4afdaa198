import { describe, expect, it } from 'vitest';
import { circle } from '../../../src/geometry/paths/path.ts';
import type { Part } from '../../../src/handing/part.ts';
import type { Placement, Roll } from '../../../src/lay/lay.ts';
import {
  layOf,
  longBay,
  part,
  point,
  rectangle,
  roundedRectangle,
} from '../../knife/sample-parts.ts';
import { rulesFound } from '../good-run.ts';
import { runFiles } from '../run-folder.ts';

/** Two parts laid beside each other as said, and all files written true to that. */
function rulesOf(a: Part, b: Part, at: Partial<Placement>, gap: number): string[] {
  const placements: Placement[] = [
    { label: a.label, x: 200, y: 200, rotation: 0 },
    { label: b.label, x: 200, y: 200, rotation: 0, ...at },
  ];
  const lay = layOf([a, b], placements, { gap, biteLength: longBay.bed.length });
  return rulesFound(runFiles([a, b], lay, longBay));
}

const disc = (label: string, radius: number): Part => part(label, circle(point(0, 0), radius));
const ring = part('ring.1.A1', rectangle(400, 400), {
  inner: [{ role: 'CUTOUT', path: roundedRectangle(200, 200, 30, 100, 100) }],
});
const tile = part('tile.1.A1', rectangle(100, 100));

// The clearance of two circles is the distance of their centres less both radii.
describe('the gap', () => {
  it.each([
    ['kept', 205, []],
    ['missed by 0.02 mm', 204.98, ['lay-gap']],
    ['missed by all of it', 200, ['lay-gap']],
    ['missed with an overlap of 1 mm', 199, ['lay-overlap']],
  ])('%s between circles', (_, x, rules) => {
    expect(rulesOf(disc('a.1.A1', 100), disc('b.1.A1', 100), { x: 200 + x }, 5)).toEqual(rules);
  });

  it('of nothing is kept by contours that touch, along a side or at an arc', () => {
    expect(rulesOf(tile, part('b.1.A1', rectangle(100, 100)), { x: 300 }, 0)).toEqual([]);
    expect(rulesOf(disc('a.1.A1', 100), disc('b.1.A1', 100), { x: 400 }, 0)).toEqual([]);
  });

  it('is kept to a cutout too', () => {
    expect(rulesOf(ring, tile, { x: 200 + 105, y: 200 + 150 }, 5)).toEqual([]);
    expect(rulesOf(ring, tile, { x: 200 + 104, y: 200 + 150 }, 5)).toEqual(['lay-gap']);
  });
});

describe('an overlap', () => {
  it('is found where one part lies wholly on another', () => {
    expect(rulesOf(part('slab.1.A1', rectangle(400, 400)), tile, { x: 220, y: 220 }, 5)).toContain(
      'lay-overlap',
    );
  });

  it('is found where a part lies across the edge of a cutout', () => {
    expect(rulesOf(ring, tile, { x: 200 + 60, y: 200 + 150 }, 5)).toContain('lay-overlap');
  });
});

describe('the roll', () => {
  /** A tile of 100 mm at (200, 200) on a roll with faults, and all files written true to that. */
  function rulesOn(faults: Partial<Roll>, one = tile, at: Partial<Placement> = {}): string[] {
    const placements = [{ label: one.label, x: 200, y: 200, rotation: 0, ...at }];
    const lay = layOf([one], placements, { gap: 5, biteLength: longBay.bed.length });
    return rulesFound(runFiles([one], { ...lay, roll: { ...lay.roll, ...faults } }, longBay));
  }

  const corners = (x: number, y: number, width: number, height: number) => [
    point(x, y),
    point(x + width, y),
    point(x + width, y + height),
    point(x, y + height),
  ];

  it.each<[string, number, string[]]>([
    ['touched', 300, []],
    ['under the part by 0.02 mm', 299.98, ['lay-defect']],
    ['under the part', 250, ['lay-defect']],
  ])('has a defect: %s', (_, x, rules) => {
    expect(rulesOn({ defects: [corners(x, 150, 80, 200)] })).toEqual(rules);
    expect(rulesOn({ defects: [corners(x, 150, 80, 200).toReversed()] })).toEqual(rules);
  });

  it('has a defect that lies in a cutout', () => {
    expect(rulesOn({ defects: [corners(350, 350, 80, 80)] }, ring)).toEqual([]);
    expect(rulesOn({ defects: [corners(350, 350, 160, 80)] }, ring)).toEqual(['lay-defect']);
  });

  it.each<[string, number, string[]]>([
    ['reached', 300, []],
    ['passed by 0.02 mm', 299.98, ['lay-remnant']],
    ['passed', 250, ['lay-remnant']],
  ])('has an edge: %s', (_, y, rules) => {
    expect(rulesOn({ outline: corners(0, 0, 900, y) })).toEqual(rules);
  });

  it('has faults, and a turned part keeps off them', () => {
    const turned = part('turned.1.A1', rectangle(100, 100), { pileDeg: 0, tilt: 10 });
    // A corner of the tile turned by 10 degrees lies at x = 200 - 100 sin 10 = 182.635 [M].
    const beside = (end: number) => ({ defects: [corners(100, 100, end - 100, 400)] });
    expect(rulesOn(beside(182.6), turned, { rotation: 10 })).toEqual([]);
    expect(rulesOn(beside(184), turned, { rotation: 10 })).toEqual(['lay-defect']);
  });
});
