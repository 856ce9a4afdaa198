import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circle } from '../../src/geometry/paths/path.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import type { Point } from '../../src/geometry/paths/point.ts';
import { judgeLaid } from '../../src/lay/judge.ts';
import type { Roll } from '../../src/lay/lay.ts';
import { oblong, plainRules, roll } from './fixtures.ts';

function cornersOf(path: Path): Point[] {
  return path.vertices.map(({ x, y }) => ({ x, y }));
}

/** A stain of 200 x 100 mm from (500, 600). */
const stain = cornersOf(oblong(200, 100, 500, 600));
const stained: Roll = { ...roll, defects: [stain] };

/** A remnant with a corner off: from (1000, 2000) down to (1500, 1000). */
const remnant: Roll = {
  ...roll,
  length: 1500,
  outline: [
    { x: 0, y: 0 },
    { x: 1500, y: 0 },
    { x: 1500, y: 1000 },
    { x: 1000, y: 2000 },
    { x: 0, y: 2000 },
  ],
};

function rulesOf(cut: Path, on: Roll, inner: readonly Path[] = [], tolerance = 1e-4): string[] {
  return judgeLaid([{ label: 'a', cut, inner }], on, plainRules, tolerance).map(({ rule }) => rule);
}

describe('a defect under a part', () => {
  it.each<[string, Path, readonly Path[], string[]]>([
    ['wholly', oblong(600, 600, 300, 300), [], ['lay-defect']],
    ['by a corner', oblong(301, 301, 200, 300), [], ['lay-defect']],
    ['by the middle of a side', oblong(10, 500, 590, 601), [], ['lay-defect']],
    ['by a round part', circle({ x: 450, y: 650 }, 51), [], ['lay-defect']],
    ['that lies in it wholly', oblong(10, 10, 600, 650), [], ['lay-defect']],
    ['not, touched along a side', oblong(300, 300, 200, 600), [], []],
    ['not, touched at a corner', oblong(300, 300, 200, 300), [], []],
    ['not, a little off', circle({ x: 450, y: 650 }, 49), [], []],
    ['not, for it lies in a cutout', oblong(600, 600, 300, 300), [oblong(220, 120, 490, 590)], []],
    [
      'for its cutout holds not all of it',
      oblong(600, 600, 300, 300),
      [oblong(220, 95, 490, 590)],
      ['lay-defect'],
    ],
  ])('%s', (_, cut, inner, rules) => {
    expect(rulesOf(cut, stained, inner)).toEqual(rules);
  });

  it('is found wherever a part is moved onto it, and nowhere else', () => {
    const place = fc.record({
      x: fc.integer({ min: 40, max: 1000 }),
      y: fc.integer({ min: 25, max: 1000 }),
    });
    fc.assert(
      fc.property(place, ({ x, y }) => {
        // An oblong of 150 x 250 meets the stain where both their stretches do.
        const meets = x < 700 && x + 150 > 500 && y < 700 && y + 250 > 600;
        expect(rulesOf(oblong(150, 250, x, y), stained)).toEqual(meets ? ['lay-defect'] : []);
      }),
    );
  });

  it('is told with the part, and where: in both of them', () => {
    const cut = oblong(300, 400, 400, 250);
    const [finding] = judgeLaid([{ label: 'a', cut, inner: [] }], stained, plainRules, 1e-4);
    expect(finding!.where.part).toBe('a');
    expect(finding!.message).toMatch(/(500|700) mm along the roll and (600|650) mm across/);
  });

  it('is told for each defect, whichever way round it is drawn', () => {
    const other = cornersOf(oblong(10, 10, 700, 800)).toReversed();
    const on = { ...roll, defects: [stain.toReversed(), other] };
    expect(rulesOf(oblong(600, 600, 300, 300), on)).toEqual(['lay-defect', 'lay-defect']);
  });

  it('is let pass up to the tolerance', () => {
    const touching = (over: number) => oblong(300 + over, 300, 200, 500);
    expect(rulesOf(touching(0.0005), stained, [], 0.001)).toEqual([]);
    expect(rulesOf(touching(0.01), stained, [], 0.001)).toEqual(['lay-defect']);
  });
});

describe('the edge of a remnant', () => {
  it.each<[string, Path, string[]]>([
    ['kept', oblong(400, 900, 100, 100), []],
    ['touched by a corner', oblong(250, 500, 1000, 1000), []],
    ['passed by a corner', oblong(260, 500, 1000, 1000), ['lay-remnant']],
    ['passed by all of a part', oblong(50, 50, 1440, 1900), ['lay-remnant']],
    ['kept by a round part', circle({ x: 1000, y: 1450 }, 200), []],
    // The edge is 245.97 mm from (1000, 1450): 550 / sqrt(5) [M].
    ['kept closely by a round part', circle({ x: 1000, y: 1450 }, 245), []],
    ['passed by a round part', circle({ x: 1000, y: 1450 }, 247), ['lay-remnant']],
  ])('%s', (_, cut, rules) => {
    expect(rulesOf(cut, remnant)).toEqual(rules);
    const outline = remnant.outline!.toReversed();
    expect(rulesOf(cut, { ...remnant, outline })).toEqual(rules);
  });

  it('that comes inwards is found where a part lies across the bay', () => {
    const outline = [
      { x: 0, y: 0 },
      { x: 1500, y: 0 },
      { x: 1500, y: 2000 },
      { x: 800, y: 2000 },
      { x: 750, y: 900 },
      { x: 700, y: 2000 },
      { x: 0, y: 2000 },
    ];
    const bay = { ...roll, outline };
    expect(rulesOf(oblong(600, 200, 450, 1500), bay)).toEqual(['lay-remnant']);
    expect(rulesOf(oblong(600, 200, 450, 700), bay)).toEqual([]);
  });
});
