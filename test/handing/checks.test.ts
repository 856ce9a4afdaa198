import { describe, expect, it } from 'vitest';
import { deriveParts } from '../../src/handing/derive.ts';
import { Refusal } from '../../src/findings.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { checkPiece } from '../../src/pattern/checks.ts';
import { feature, line, materials, oblong, order, patternSet, piece } from './fixtures.ts';

const shape = oblong(100, 0, 500, 300);

function rules(one: Piece, options = {}): string[] {
  return deriveParts(patternSet('RHD', [one]), order('LHD', options), materials).findings.map(
    ({ rule }) => rule,
  );
}

describe('what is wrong with parts', () => {
  it.each([
    [
      'cutout-outside',
      piece('a', { side: 'left' }, shape, [feature('CUTOUT', oblong(480, 10, 520, 50))]),
    ],
    [
      'cutout-outside',
      piece('a', { side: 'left' }, shape, [feature('CUTOUT', oblong(600, 10, 620, 50))]),
    ],
    [
      'cutouts-overlap',
      piece('a', { side: 'left' }, shape, [
        feature('CUTOUT', oblong(200, 10, 220, 50)),
        feature('HOLE', oblong(210, 20, 230, 40)),
      ]),
    ],
    ['no-pile', { ...piece('a', { side: 'left' }, shape), pile: null }],
    ['raw-on-show', piece('a', { side: 'left', edge: 'raw' }, shape)],
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
    [
      'same-label',
      piece('a', { pad: 'rubber' }, oblong(-500, 0, 500, 300), [
        feature('PAD', oblong(100, 50, 200, 100)),
        feature('PAD', oblong(300, 50, 400, 100)),
      ]),
    ],
  ])('%s', (rule, one) => {
    expect(rules(one)).toContain(rule);
  });

  it('a driver’s cutout that its mirror image would put over another is found in that hand alone', () => {
    const floor = piece('floor', {}, oblong(-500, 0, 500, 300), [
      feature('CUTOUT', oblong(300, 100, 350, 150), 'DRIVER'),
      feature('CUTOUT', oblong(-340, 120, -300, 200)),
    ]);
    expect(rules(floor)).toEqual(['cutouts-overlap']);
    const asDrawn = deriveParts(patternSet('RHD', [floor]), order('RHD'), materials);
    expect(asDrawn.findings).toEqual([]);
  });

  it('refuses an allowance that does not fit the outline, with the place', () => {
    // A slot of 40 between two arms that are both tucked under by 30.
    const u = {
      closed: true,
      vertices: [
        [0, 0],
        [300, 0],
        [300, 200],
        [170, 200],
        [170, 50],
        [130, 50],
        [130, 200],
        [0, 200],
      ].map(([x, y]) => ({ x: x!, y: y!, bulge: 0 })),
    };
    const make = () =>
      deriveParts(
        patternSet('RHD', [piece('u', { side: 'left', edge: 'tuck' }, u)]),
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

describe('what is wrong with pieces as drawn', () => {
  it.each([
    [
      'self-crossing',
      piece(
        'a',
        { side: 'left' },
        {
          closed: true,
          vertices: [
            [0, 0],
            [100, 100],
            [100, 0],
            [0, 100],
          ].map(([x, y]) => ({ x: x!, y: y!, bulge: 0 })),
        },
      ),
    ],
    [
      'feature-outside',
      piece('a', { side: 'left' }, shape, [feature('FOLD', line(100, 100, 600, 100))]),
    ],
    [
      'never-present',
      piece('a', { side: 'left' }, shape, [feature('CUTOUT', oblong(200, 10, 220, 50), 'RIGHT')]),
    ],
    [
      'never-present',
      piece('a', { side: 'driver' }, shape, [
        feature('CUTOUT', oblong(200, 10, 220, 50), 'PASSENGER'),
      ]),
    ],
    [
      'no-axis',
      {
        ...piece('a', {}, shape, [feature('CUTOUT', oblong(200, 10, 220, 50), 'DRIVER')]),
        axis: null,
      },
    ],
    ['no-axis', { ...piece('a', { outline: 'driver' }, shape), axis: null }],
    [
      'pad-material',
      piece('a', { side: 'left' }, shape, [feature('PAD', oblong(200, 10, 220, 50))]),
    ],
    ['no-pad', piece('a', { side: 'left', pad: 'rubber' }, shape)],
  ])('%s', (rule, one) => {
    expect(checkPiece(one).map((finding) => finding.rule)).toContain(rule);
  });

  it('finds nothing wrong with a sound piece', () => {
    const sound = piece('a', { side: 'left', pad: 'rubber' }, shape, [
      feature('PAD', oblong(200, 10, 220, 50)),
      feature('FOLD', line(100, 100, 500, 100)),
    ]);
    expect(checkPiece(sound)).toEqual([]);
  });
});
