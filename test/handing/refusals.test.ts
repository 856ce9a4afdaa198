import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import { deriveParts } from '../../src/handing/derive.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { feature, line, materials, oblong, order, patternSet, piece, slotted } from './fixtures.ts';

const shape = oblong(100, 0, 500, 300);

function rules(one: Piece): string[] {
  return deriveParts(patternSet('RHD', [one]), order('LHD'), materials).findings.map(
    ({ rule }) => rule,
  );
}

describe('edges that cannot be claimed', () => {
  it.each([
    [
      'edge-not-claimed',
      piece('a', { side: 'left', edge: undefined }, shape, [
        feature('BOUND', line(100, 0, 500, 0)),
      ]),
    ],
    ['edge-strays', piece('a', { side: 'left' }, shape, [feature('SEAM', line(100, 0, 500, 2))])],
    [
      'edge-claimed-twice',
      piece('a', { side: 'left' }, shape, [
        feature('SEAM', line(100, 0, 500, 0)),
        feature('TUCK', line(300, 0, 500, 0)),
      ]),
    ],
  ])('%s', (rule, one) => {
    expect(rules(one)).toContain(rule);
  });
});

describe('allowances and insets that do not fit', () => {
  it('refuses an allowance that does not fit the outline, with the place', () => {
    // A slot of 40 between two arms that are both tucked under by 30.
    const make = () =>
      deriveParts(
        patternSet('RHD', [piece('u', { side: 'left', edge: 'tuck' }, slotted)]),
        order('RHD'),
        materials,
      );
    expect(make).toThrow(Refusal);
    expect(make).toThrow(/allowance does not fit the outline/);
  });

  it('refuses an inset at which a neck closes', () => {
    const corners = [
      [0, 0],
      [200, 0],
      [200, 90],
      [300, 90],
      [300, 0],
      [500, 0],
      [500, 200],
      [300, 200],
      [300, 110],
      [200, 110],
      [200, 200],
      [0, 200],
    ];
    const dumbbell = {
      closed: true,
      vertices: corners.map(([x, y]) => ({ x: x!, y: y!, bulge: 0 })),
    };
    const one = piece('a', { side: 'left', board: { material: 'board', inset: 15 } }, dumbbell);
    const make = () => deriveParts(patternSet('RHD', [one]), order('RHD'), materials);
    expect(make).toThrow(/inset of 15 mm does not fit the outline/);
  });

  it('refuses an inset that leaves nothing', () => {
    const one = piece('a', { side: 'left', board: { material: 'board', inset: 160 } }, shape);
    expect(() => deriveParts(patternSet('RHD', [one]), order('RHD'), materials)).toThrow(
      /inset of 160 mm/,
    );
  });
});
