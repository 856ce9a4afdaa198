import { describe, expect, it } from 'vitest';
import { circle } from '../../src/geometry/paths/path.ts';
import type { Lay, Placement } from '../../src/lay/lay.ts';
import { verifyLay } from './verify.ts';
import { material, oblong, partOf } from './fixtures.ts';

/**
 * Laid by hand, pile along the roll, gap 5, bed 1000, selvedge 25, margin 40, roll 2000 x 1500:
 * two floors side by side, a disc in the cutout of the first, a step past them.
 */
const parts = [
  partOf('floor.1', oblong(900, 900), [circle({ x: 450, y: 450 }, 200)], { pileDeg: 0 }),
  partOf('floor.2', oblong(900, 900), [], { pileDeg: 0 }),
  partOf('disc', circle({ x: 0, y: 0 }, 195), [], { pileDeg: 0 }),
  partOf('step', oblong(400, 300), [], { pileDeg: 0 }),
];

const good: Lay = {
  material,
  roll: { width: 2000, selvedge: 25, startMargin: 40, length: 1500 },
  rules: { turns: 'one-way', gap: 5, biteLength: 1000 },
  placements: [
    { label: 'floor.1', x: 40, y: 25, rotation: 0 },
    { label: 'floor.2', x: 40, y: 930, rotation: 0 },
    { label: 'disc', x: 490, y: 475, rotation: 0 },
    { label: 'step', x: 1000, y: 25, rotation: 0 },
  ],
  length: 1400,
  // 2 x 810000 - pi 200^2 + pi 195^2 + 120000, over 1400 x 1950 [D].
  density: (1740000 - Math.PI * (200 ** 2 - 195 ** 2)) / (1400 * 1950),
};

function placed(label: string, change: Partial<Placement>, lay = good): Lay {
  const placements = lay.placements.map((one) =>
    one.label === label ? { ...one, ...change } : one,
  );
  return { ...lay, placements };
}

function rulesFound(lay: Lay, of = parts): string[] {
  return verifyLay(lay, of).map(({ rule, where }) => [rule, where.part].join(' ').trim());
}

/** A plate with a round cutout of 100 mm and a disc in the middle of it, turned so that no corners meet. */
function plugged(radius: number): string[] {
  const plate = partOf('plate', oblong(300, 300), [circle({ x: 150, y: 150 }, 100)], {
    pileDeg: 0,
  });
  const plug = partOf('plug', circle({ x: 0, y: 0 }, radius), [], { pileDeg: -37 });
  const lay: Lay = {
    material,
    roll: { width: 300, selvedge: 0, startMargin: 0, length: Infinity },
    rules: { turns: 'one-way', gap: 0, biteLength: Infinity },
    placements: [
      { label: 'plate', x: 0, y: 0, rotation: 0 },
      { label: 'plug', x: 150, y: 150, rotation: 37 },
    ],
    length: 300,
    density: (90000 + Math.PI * (radius ** 2 - 100 ** 2)) / 90000,
  };
  return rulesFound(lay, [plate, plug]);
}

describe('verifyLay', () => {
  it('finds nothing in a good lay', () => {
    expect(verifyLay(good, parts)).toEqual([]);
  });

  it.each<[string, Lay, string[]]>([
    ['a part shifted onto another', placed('floor.2', { y: 900 }), ['lay-overlap floor.1']],
    [
      'parts overlapping by a hundredth of a mm',
      placed('floor.2', { y: 924.99 }),
      ['lay-overlap floor.1'],
    ],
    ['a gap a hundredth of a mm too small', placed('floor.2', { y: 929.99 }), ['lay-gap floor.1']],
    ['a gap too small in a cutout', placed('disc', { x: 490.02 }), ['lay-gap floor.1']],
    [
      'a part on the material of another',
      placed('disc', { x: 240, y: 1200 }),
      ['lay-overlap floor.2'],
    ],
    ['a part that only half lies in a cutout', placed('disc', { x: 600 }), ['lay-overlap floor.1']],
    [
      'a part into the margin at the start',
      placed('floor.1', { x: 39.9 }),
      ['lay-start floor.1', 'lay-gap floor.1'],
    ],
    ['a part over the near selvedge', placed('step', { y: 24.9 }), ['lay-selvedge step']],
    ['a part over the far selvedge', placed('step', { y: 1675.1 }), ['lay-selvedge step']],
    [
      'parts longer than the bed',
      { ...good, rules: { ...good.rules, biteLength: 899.9 } },
      ['lay-bite floor.1', 'lay-bite floor.2'],
    ],
    [
      'a part past the end of the roll',
      placed('step', { x: 1101 }),
      ['lay-end step', 'lay-length', 'lay-density'],
    ],
    ['a part turned against its pile', placed('disc', { rotation: 180 }), ['lay-turn disc']],
    [
      'a part that is placed nowhere',
      placed('disc', { x: NaN }),
      ['lay-number disc', 'lay-density'],
    ],
    ['a length that is not so', { ...good, length: 1399 }, ['lay-length']],
    ['a length that is no number', { ...good, length: NaN }, ['lay-length']],
    ['a density that is not so', { ...good, density: 0.7 }, ['lay-density']],
    [
      'another material',
      { ...good, material: 'rubber' },
      parts.map(({ label }) => `lay-material ${label}`),
    ],
  ])('finds %s', (_, lay, expected) => {
    expect(rulesFound(lay)).toEqual(expected);
  });

  it('finds a missing part', () => {
    const placements = good.placements.filter(({ label }) => label !== 'disc');
    expect(rulesFound({ ...good, placements })).toEqual(['lay-missing disc', 'lay-density']);
  });

  it('finds a part laid twice, in the same place and elsewhere', () => {
    const step = good.placements[3]!;
    const twice = (one: Placement): string[] =>
      rulesFound({ ...good, placements: [...good.placements, one] });
    expect(twice(step)).toEqual(['lay-doubled step', 'lay-overlap step', 'lay-density']);
    expect(twice({ ...step, y: 500 })).toEqual(['lay-doubled step', 'lay-density']);
  });

  it('finds a part that is not in the run', () => {
    expect(rulesFound(good, parts.slice(0, 3))).toEqual([
      'lay-unknown step',
      'lay-length',
      'lay-density',
    ]);
  });

  it('without a gap parts may touch, in a curve too, but not overlap', () => {
    const disc = circle({ x: 0, y: 0 }, 100);
    const two = [
      partOf('a', disc, [], { pileDeg: null }),
      partOf('b', disc, [], { pileDeg: null }),
    ];
    // Off the axes, where the judge's polygons have no corner to touch at.
    const found = (apart: number): string[] => {
      const x = 100 + apart * Math.cos(0.3);
      const y = 100 + apart * Math.sin(0.3);
      const lay: Lay = {
        material,
        roll: { width: 400, selvedge: 0, startMargin: 0, length: Infinity },
        rules: { turns: 'any', gap: 0, biteLength: Infinity },
        placements: [
          { label: 'a', x: 100, y: 100, rotation: 0 },
          { label: 'b', x, y, rotation: 90 },
        ],
        length: x + 100,
        density: (2 * Math.PI * 100 ** 2) / ((x + 100) * 400),
      };
      return rulesFound(lay, two);
    };
    expect(found(200)).toEqual([]);
    expect(found(199.95)).toEqual(['lay-overlap a']);
  });

  it('without a gap a plug may fill its cutout, but not be larger', () => {
    expect(plugged(100)).toEqual([]);
    expect(plugged(100.05)).toEqual(['lay-overlap plate']);
  });

  it('says where and by how much, and what to do', () => {
    const [finding] = verifyLay(placed('floor.2', { y: 900 }), parts);
    // 900 mm long, 25 mm deep; the corner of the overlap is at the parts' own corner.
    expect(finding!.message).toContain('floor.2 overlap by 22500 mm2');
    expect(finding!.message).toMatch(/near (40|940) mm along the roll and (900|925) mm across/);
    expect(finding!.todo).not.toBe('');
  });
});
