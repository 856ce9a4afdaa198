import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/base/findings.ts';
import { withoutIdleNotes } from '../../../src/base/findings.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { circle, polyline } from '../../../src/geometry/paths/path.ts';
import { transformPath, translation } from '../../../src/geometry/paths/transform.ts';
import type { Follows } from '../../../src/pattern/layers.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import type { Feature } from '../../../src/pattern/feature.ts';
import { checkPiece } from '../../../src/pattern/rules/rules.ts';
import { checkSnapped } from '../../../src/pattern/rules/snapped.ts';
import { cornerless, feature, line, oblong, piece } from '../../handing/fixtures.ts';

type Corner = readonly [x: number, y: number];

function path(closed: boolean, ...corners: Corner[]): Path {
  return polyline(
    corners.map(([x, y]) => ({ x, y })),
    closed,
  );
}

/** From one point to another by an arc. */
function arc([x0, y0]: Corner, [x1, y1]: Corner, bulge: number): Path {
  return {
    closed: false,
    vertices: [
      { x: x0, y: y0, bulge },
      { x: x1, y: y1, bulge: 0 },
    ],
  };
}

const at = (x: number, y: number): Path => path(false, [x, y]);
const shape = oblong(100, 0, 500, 300);

/** A piece of the body's left side, 400 x 300. */
function plain(features: Feature[] = [], sheet: Partial<Piece['entry']> = {}): Piece {
  return piece('a', { side: 'left', ...sheet }, shape, features);
}

/** Arms of 100 to the left and the right of a bay 100 wide and 200 deep. */
const bay = path(
  true,
  [0, 0],
  [300, 0],
  [300, 300],
  [200, 300],
  [200, 100],
  [100, 100],
  [100, 300],
  [0, 300],
);

function across(one: Feature, sheet: Partial<Piece['entry']> = {}): Piece {
  return piece('a', sheet, cornerless, [one]);
}

const mark = (follows: Follows | null): Feature =>
  feature('MARK', line(400, 200, 400, 250), follows);
const driversHole = feature('HOLE', at(200, 100), 'DRIVER');
const pad = feature('PAD', oblong(200, 10, 220, 50));

const handBrake = feature('HOLE', circle({ x: 120, y: 150 }, 20));

/** A floor of 1000 x 300 across the middle; its centreline is drawn `off` mm beside that. */
function floor(features: Feature[], sheet: Partial<Piece['entry']> = {}, off = 0): Piece {
  const axis = { from: { x: off, y: 0 }, to: { x: off, y: 100 } };
  return { ...piece('a', sheet, oblong(-500, 0, 500, 300), features), axis };
}

function moved(one: Feature, by: number): Feature {
  return { ...one, path: transformPath(translation({ x: by, y: 0 }), one.path) };
}

/** Each with all that is found: `rule x,y`. */
const cases: [name: string, one: Piece, ...found: string[]][] = [
  ['a sound piece', plain([pad, feature('FOLD', line(100, 100, 500, 100))], { pad: 'rubber' })],

  [
    'an outline that crosses itself',
    piece('a', { side: 'left' }, path(true, [0, 0], [100, 100], [100, 0], [0, 100])),
    'self-crossing 50,50',
  ],
  [
    'a cutout that crosses itself',
    plain([feature('CUTOUT', path(true, [200, 10], [240, 50], [240, 10], [200, 50]))]),
    'self-crossing 220,30',
  ],
  [
    'a cutout without area',
    plain([feature('CUTOUT', path(true, [200, 10], [220, 10], [220, 10.05]))]),
    'no-area 200,10',
  ],
  [
    // 380 x 280 of 400 x 300: 88.7 %.
    'a cutout along the edge, all round',
    plain([feature('CUTOUT', oblong(110, 10, 490, 290))]),
    'narrow-ring 110,10',
  ],
  // 340 x 280 of 400 x 300: 79.3 %.
  ['a large cutout', plain([feature('CUTOUT', oblong(110, 10, 450, 290))])],
  [
    'a line along the edge that is only a mark',
    plain([feature('MARK', oblong(110, 10, 490, 290))]),
  ],

  [
    'a fold line that goes on beyond the edge',
    plain([feature('FOLD', line(100, 100, 502, 100))]),
    'feature-outside 502,100',
  ],
  ['a mark that touches the edge', plain([feature('MARK', line(200, 300, 300, 300))])],
  ['a mark a millimetre beyond it', plain([feature('MARK', line(200, 301, 300, 301))])],
  [
    'a stitch line over a bay, with both ends on the piece',
    piece('a', { side: 'left' }, bay, [feature('STITCH', line(50, 200, 250, 200))]),
    // Deepest in the middle, 50 mm from either arm.
    'feature-outside 150,200',
  ],
  [
    'an arc that bulges out between its ends',
    // A half circle of radius 100 about 300, 250: 50 mm beyond the edge at 300.
    plain([feature('MARK', arc([400, 250], [200, 250], 1))]),
    'feature-outside 300,350',
  ],
  [
    'an arc that stays within',
    // The same half circle downwards.
    plain([feature('MARK', arc([200, 250], [400, 250], 1))]),
  ],
  ['a point off the piece', plain([feature('HOLE', at(520, 100))]), 'feature-outside 520,100'],
  ['a notch on the edge', plain([feature('NOTCH', at(300, 300))])],
  ['a notch a hundredth off', plain([feature('NOTCH', at(300, 299.99))])],
  ['a notch 0.9 mm inside', plain([feature('NOTCH', at(300, 299.1))]), 'snapped 300,299'],
  ['a notch 0.9 mm outside', plain([feature('NOTCH', at(300, 300.9))]), 'snapped 300,301'],
  ['a drill mark 0.9 mm inside', plain([feature('HOLE', at(300, 299.1))]), 'snapped 300,299'],
  ['a drill mark 2 mm inside', plain([feature('HOLE', at(300, 298))])],
  [
    // One line for the two: furthest off is the seam.
    'a seam 0.9 mm and a notch 0.6 mm off',
    plain([feature('SEAM', line(200, 0.9, 400, 0)), feature('NOTCH', at(300, 300.6))]),
    'snapped 200,1',
  ],
  ['a notch 4 mm inside', plain([feature('NOTCH', at(300, 296))]), 'notch-off-outline 300,296'],
  ['a notch 4 mm outside', plain([feature('NOTCH', at(300, 304))]), 'notch-off-outline 300,304'],
  ['a notch line in from the edge', plain([feature('NOTCH', line(300, 290, 300, 300))])],
  [
    'a notch line that begins inside',
    plain([feature('NOTCH', line(300, 290, 300, 297))]),
    'notch-off-outline 300,297',
  ],
  [
    'a fold line on the layer of notches, from edge to edge',
    plain([feature('NOTCH', line(100, 100, 500, 100))]),
    'notch-across 100,100',
  ],
  [
    'a fold line on the layer of notches, 6 mm short of both edges',
    plain([feature('NOTCH', line(106, 100, 494, 100))]),
    'notch-off-outline 106,100',
  ],
  [
    'a notch line of 31 mm',
    plain([feature('NOTCH', line(300, 300, 300, 269))]),
    'notch-long 300,300',
  ],
  ['a notch line of 30 mm', plain([feature('NOTCH', line(300, 300, 300, 270))])],
  [
    'a notch drawn as a V',
    plain([feature('NOTCH', path(false, [297, 300], [300, 293], [303, 300]))]),
    'notch-shape 297,300',
  ],
  [
    'a notch line along the edge',
    plain([feature('NOTCH', line(300, 300, 308, 297))]),
    'notch-shape 300,300',
  ],
  ['a notch line aslant', plain([feature('NOTCH', line(300, 300, 308, 292))])],
  [
    'a notch line out from the edge',
    plain([feature('NOTCH', line(300, 300, 300, 310))]),
    'feature-outside 300,310',
  ],
  [
    'a driver’s mark that the other hand puts off the piece',
    across(mark('DRIVER')),
    // Its image stands at -400 from 200 to 250, where the piece ends at 100.
    'feature-outside -400,250',
  ],
  ['a mark that stays in the other hand', across(mark(null))],
  ['a mark of the right of the vehicle', across(mark('RIGHT'))],
  [
    'a mark of the right of the vehicle, whose outline follows the driver',
    across(mark('RIGHT'), { outline: 'driver' }),
    'feature-outside -400,250',
  ],
  ['a driver’s mark, whose outline goes with it', across(mark('DRIVER'), { outline: 'driver' })],
  [
    'a driver’s notch that the other hand puts off the outline',
    across(feature('NOTCH', at(300, 300), 'DRIVER')),
    // Its image at -300, 300: the corner at -200, 300 is nearest.
    'notch-off-outline -300,300',
  ],

  [
    'a crooked fold line',
    plain([feature('FOLD', path(false, [100, 100], [300, 103], [500, 100]))]),
    'fold-crooked 300,103',
  ],
  [
    'a curved fold line',
    // Counter-clockwise it lies to the right of its chord: bulge x half chord = 0.1 x 200 in front of it.
    plain([feature('FOLD', arc([500, 100], [100, 100], 0.1))]),
    'fold-crooked 300,120',
  ],
  [
    'a straight fold line of three points',
    plain([feature('FOLD', path(false, [100, 100], [300, 100], [500, 100]))]),
  ],
  [
    'a fold line that goes round',
    plain([feature('FOLD', circle({ x: 300, y: 150 }, 50))]),
    // Furthest from where it begins, at 350.
    'fold-crooked 250,150',
  ],
  [
    'a fold line that stops 6 mm short',
    plain([feature('FOLD', line(100, 100, 494, 100))]),
    'fold-short 494,100',
  ],
  ['a fold line that stops 5 mm short', plain([feature('FOLD', line(100, 100, 495, 100))])],
  [
    'a fold line that stops at a cutout',
    plain([
      feature('FOLD', line(100, 100, 300, 100)),
      feature('CUTOUT', oblong(300, 50, 400, 150)),
    ]),
  ],

  [
    'a cutout of the right on a piece of the left',
    plain([feature('CUTOUT', oblong(200, 10, 220, 50), 'RIGHT')]),
    'never-present 200,10',
  ],
  [
    'a cutout of the passenger on the driver’s piece',
    plain([feature('CUTOUT', oblong(200, 10, 220, 50), 'PASSENGER')], { side: 'driver' }),
    'never-present 200,10',
  ],
  [
    'a driver’s cutout on the driver’s piece',
    plain([feature('CUTOUT', oblong(200, 10, 220, 50), 'DRIVER')], { side: 'driver' }),
  ],
  ['a driver’s hole on a piece of the body', plain([driversHole]), 'not-decided 200,100'],
  [
    'a driver’s hole on a piece of the body, decided',
    plain([driversHole], { decided: 'the seat slide is there on one side only' }),
  ],
  ['a hole of the left on a piece of the left', plain([feature('HOLE', at(200, 100), 'LEFT')])],
  ['a driver’s hole on a pair', plain([driversHole], { side: 'pair', drawnSide: 'right' })],
  [
    'a driver’s hole on a centre piece without a centreline',
    { ...plain([driversHole], { side: 'centre' }), axis: null },
    'no-axis 200,100',
  ],
  [
    'an outline that follows the driver, without a centreline',
    { ...plain([], { side: 'centre', outline: 'driver' }), axis: null },
    'no-axis',
  ],

  ['a hole off the middle of a centre piece', floor([handBrake]), 'one-sided 120,150'],
  ['a point to drill off the middle', floor([feature('HOLE', at(120, 150))]), 'one-sided 120,150'],
  [
    'two holes off the middle, told in one line',
    floor([handBrake, feature('HOLE', circle({ x: -300, y: 50 }, 9))]),
    'one-sided 120,150',
  ],
  ['a hole off the middle, decided', floor([handBrake], { decided: 'the hand brake stays' })],
  [
    'a hole off the middle of what may be no centre piece',
    floor([handBrake], { open: { side: 'a guess' } }),
  ],
  ['a hole off the middle that stays', floor([{ ...handBrake, follows: 'RIGHT' }])],
  ['a hole off the middle that follows the driver', floor([{ ...handBrake, follows: 'DRIVER' }])],
  [
    'a hole with its twin',
    floor([handBrake, feature('HOLE', circle({ x: -120.8, y: 150.8 }, 20))]),
  ],
  [
    'a hole with another one on the other side, 5 mm off',
    floor([handBrake, feature('HOLE', circle({ x: -120, y: 155 }, 20))]),
    'one-sided 120,150',
  ],
  [
    'a hole with a cutout on the other side',
    floor([handBrake, feature('CUTOUT', circle({ x: -120, y: 150 }, 20))]),
    'one-sided 120,150',
  ],
  ['a cutout across the middle', floor([feature('CUTOUT', oblong(-60.5, 100, 60, 160))])],
  [
    'a cutout across the middle, 3 mm off',
    floor([feature('CUTOUT', oblong(-57, 100, 63, 160))]),
    'one-sided 3,130',
  ],
  [
    'a fold, a mark and a notch off the middle',
    floor([
      feature('FOLD', line(200, 0, 200, 300)),
      feature('MARK', line(200, 20, 220, 20)),
      feature('NOTCH', at(150, 300)),
    ]),
  ],
  [
    'a hole off the middle of an outline that follows the driver',
    floor([handBrake], { outline: 'driver' }),
    'one-sided 120,150',
  ],
  [
    'a hole anywhere on a piece of one side',
    plain([feature('HOLE', circle({ x: 200, y: 150 }, 20))]),
  ],
  [
    // Drawn from its corner: its middle is at 500, and 620 is 120 beside it.
    'a hole off the middle of a piece without a centreline',
    { ...piece('a', {}, oblong(0, 0, 1000, 300), [moved(handBrake, 500)]), axis: null },
    'one-sided 620,150',
  ],
  [
    'twins on a piece without a centreline, drawn from its corner',
    {
      ...piece('a', {}, oblong(0, 0, 1000, 300), [
        moved(handBrake, 500),
        feature('HOLE', circle({ x: 380, y: 150 }, 20)),
      ]),
      axis: null,
    },
  ],
  ['a pad on one side of a centre piece', floor([pad], { pad: 'rubber' }), 'pad-one-sided 210,30'],
  [
    'a pad on one side of a centre piece, decided',
    floor([pad], { pad: 'rubber', decided: 'why' }),
    'pad-one-sided 210,30',
  ],
  [
    'a pad on each side of a centre piece',
    floor([pad, feature('PAD', oblong(-220, 10, -200, 50))], { pad: 'rubber' }),
  ],

  ['a centreline 5 mm beside the middle', floor([], {}, 5), 'axis-off-middle 5,150'],
  ['a centreline 0.4 mm beside the middle', floor([], {}, 0.4)],
  [
    'a centreline beside the middle, where something else is decided',
    floor([handBrake], { decided: 'the hand brake stays' }, 5),
    'axis-off-middle 5,150',
  ],
  [
    // The two are twins about the middle, not about the line that was drawn: one cause, one line.
    'a centreline 5 mm beside the middle, with twins',
    floor([handBrake, feature('HOLE', circle({ x: -120, y: 150 }, 20))], {}, 5),
    'axis-off-middle 5,150',
  ],
  ['a centreline beside the middle of an outline that has none', piece('a', {}, cornerless)],

  ['a heel pad without a material', plain([pad]), 'pad-material'],
  ['a material without a heel pad', plain([], { pad: 'rubber' }), 'no-pad'],
];

function brief({ rule, where }: Finding): string {
  if (where.at === undefined) return rule;
  return `${rule} ${Math.round(where.at.x)},${Math.round(where.at.y)}`;
}

describe('what is wrong with a piece as drawn', () => {
  it.each(cases)('%s', (_, one, ...found) => {
    const all = [...checkPiece(one, 'RHD'), ...checkSnapped([one])];
    expect(all.map(brief).sort()).toEqual(found.sort());
  });

  it('a point is outside just where it is further out than a trace may stray', () => {
    const place = fc.double({ min: -20, max: 20, noNaN: true });
    fc.assert(
      fc.property(place, fc.double({ min: 150, max: 450, noNaN: true }), (out, x) => {
        fc.pre(Math.abs(out - 1) > 1e-6);
        const found = checkPiece(plain([feature('MARK', at(x, 300 + out))]), 'RHD');
        expect(found.map(({ rule }) => rule)).toEqual(out > 1 ? ['feature-outside'] : []);
      }),
    );
  });

  it('names what is on one side alone, with its distance from the middle and its place', () => {
    const [found] = checkPiece(
      floor([handBrake, feature('CUTOUT', oblong(-350, 40, -300, 60))], {}),
      'RHD',
    );
    expect(found!.severity).toBe('warning');
    expect(found!.message).toContain(
      "in the piece's drawing, a HOLE at 120.0, 150.0 (120.0 mm from the middle) and a CUTOUT at -325.0, 50.0 (325.0 mm from the middle) have nothing like them",
    );
    expect(found!.message).toContain('stay there in both hands');
    const [other] = checkPiece(floor([handBrake], { outline: 'driver' }), 'RHD');
    expect(other!.message).toContain('goes over with the outline');
  });

  it('says how far the centreline is off, and how far the other hand would be', () => {
    const [found] = checkPiece(floor([], {}, -5), 'RHD');
    expect(found!.message).toContain('5.0 mm beside the middle');
    expect(found!.message).toContain('cut 10.0 mm off');
  });

  it('says how long a notch line is, and where it belongs', () => {
    const [found] = checkPiece(plain([feature('NOTCH', line(100, 100, 500, 100))]), 'RHD');
    expect(found!.severity).toBe('error');
    expect(found!.message).toContain('this NOTCH line of 400 mm runs across the piece');
    expect(found!.todo).toContain('FOLD or MARK');
  });

  it('says how many things were moved onto the outline, and how far at most', () => {
    const notches = [300.2, 299.4, 300].map((y, i) => feature('NOTCH', at(200 + 50 * i, y)));
    const [found] = checkSnapped([plain(notches)]);
    expect(found!.severity).toBe('note');
    expect(found!.message).toContain('2 things on NOTCH are drawn up to 0.60 mm beside');
    const b = { ...plain([feature('NOTCH', at(300, 299.1))]), name: 'b' };
    const both = checkSnapped([plain(notches), plain(), b]);
    expect(both).toHaveLength(1);
    expect(both[0]!.message).toContain(
      '3 things on NOTCH of 2 pieces (a, b) are drawn up to 0.90 mm beside the outline, furthest at 300.0, 299.1 in b',
    );
    expect(both[0]!.where.at).toBeUndefined();
  });

  it('is left out for whoever cuts, where nothing needs to be done', () => {
    const [snapped] = checkSnapped([plain([feature('NOTCH', at(300, 299.1))])]);
    const unless = { ...snapped!, todo: 'Nothing to do unless it was meant to be cut.' };
    const all = [snapped!, unless, { ...snapped!, severity: 'warning' as const }];
    expect(withoutIdleNotes(all)).toEqual(all.slice(1));
  });

  it('names the hand in which it is outside, where it changes side', () => {
    const [found] = checkPiece(across(mark('DRIVER')), 'LHD');
    expect(found!.message).toContain('this MARK-DRIVER, put in RHD, lies up to');
  });

  it('says how far outside, and at which line of the drawing', () => {
    const [found] = checkPiece(plain([{ ...feature('HOLE', at(520, 100)), line: 77 }]), 'RHD');
    expect(found!.message).toContain('up to 20.0 mm outside');
    expect(found!.where).toEqual({
      file: 'test.dxf',
      piece: 'a',
      line: 77,
      at: { x: 520, y: 100 },
    });
  });
});
