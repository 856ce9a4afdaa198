import type { Path } from '../../../src/geometry/paths/path.ts';
import { circle, polyline } from '../../../src/geometry/paths/path.ts';
import type { Order } from '../../../src/handing/order.ts';
import type { Binding } from '../../../src/pattern/shop/binding.ts';
import type { Follows, Role } from '../../../src/pattern/layers.ts';
import type { Material } from '../../../src/pattern/shop/material.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import type { Feature } from '../../../src/pattern/feature.ts';
import type { SetContent } from '../../../src/pattern/set-file.ts';
import type { Hand } from '../../../src/pattern/words.ts';
import { cornerless, feature, line, oblong, piece } from '../fixtures.ts';

/** What a finding comes to: `rule part x,y`, with the place only where there is one. */
export type Brief = string;

/** A small invented set, and everything that the rules have to say of its parts. Drawn RHD. */
export interface Case {
  readonly name: string;
  readonly pieces: readonly Piece[];
  readonly found: readonly Brief[];
  /** RHD if left out. */
  readonly hand?: Hand;
  readonly sheet?: Partial<SetContent>;
  readonly options?: Partial<Order>;
  /** Of the carpet. */
  readonly material?: Partial<Material>;
  readonly binding?: Partial<Binding> | null;
}

const shape = oblong(100, 0, 500, 300);

/** A piece of the body's left side, 400 x 300. */
function plain(features: Feature[] = [], sheet: Partial<Piece['entry']> = {}): Piece {
  return piece('a', { side: 'left', ...sheet }, shape, features);
}

function at(x: number, y: number): Path {
  return polyline([{ x, y }], false);
}

function named(role: Role, name: string, path: Path, follows: Follows | null = null): Feature {
  return { ...feature(role, path, follows), name };
}

const hole = (x: number, y: number, radius: number): Feature =>
  feature('HOLE', circle({ x, y }, radius));

const cutouts: Case[] = [
  {
    name: 'a cutout over the edge',
    pieces: [plain([feature('CUTOUT', oblong(480, 10, 520, 50))])],
    found: ['cutout-outside a-left 500,10'],
  },
  {
    name: 'a cutout off the piece',
    pieces: [plain([feature('CUTOUT', oblong(600, 10, 620, 50))])],
    found: ['cutout-outside a-left 600,10'],
  },
  {
    name: 'a cutout and a hole that overlap',
    pieces: [
      plain([
        feature('CUTOUT', oblong(200, 10, 220, 50)),
        feature('HOLE', oblong(210, 20, 230, 40)),
      ]),
    ],
    found: ['cutouts-overlap a-left 220,20'],
  },
  {
    name: 'a driver’s cutout that the other hand puts over another',
    hand: 'LHD',
    pieces: [
      piece('floor', {}, oblong(-500, 0, 500, 300), [
        feature('CUTOUT', oblong(300, 100, 350, 150), 'DRIVER'),
        feature('CUTOUT', oblong(-340, 120, -320, 200)),
      ]),
    ],
    // Of the image, which runs round from 350 to the left, the top meets the other's sides.
    found: ['cutouts-overlap floor -320,150'],
  },
  {
    name: 'the same cutouts in the hand they are drawn for',
    pieces: [
      piece('floor', {}, oblong(-500, 0, 500, 300), [
        feature('CUTOUT', oblong(300, 100, 350, 150), 'DRIVER'),
        feature('CUTOUT', oblong(-340, 120, -320, 200)),
      ]),
    ],
    found: [],
  },
  {
    name: 'a hole 10 mm from the edge, where 12 must be left',
    material: { bridge: 12 },
    pieces: [plain([hole(480, 150, 10)])],
    found: ['bridge a-left 490,150'],
  },
  {
    name: 'a hole 12 mm from the edge',
    material: { bridge: 12 },
    pieces: [plain([hole(480, 150, 8)])],
    found: [],
  },
  {
    name: 'a hole at the net edge, with 30 mm to be tucked beyond',
    material: { bridge: 12 },
    pieces: [plain([hole(480, 150, 10)], { edge: 'tuck' })],
    found: [],
  },
  {
    name: 'two holes 10 mm apart, where 12 must be left',
    material: { bridge: 12 },
    pieces: [plain([hole(200, 150, 10), hole(230, 150, 10)])],
    found: ['bridge a-left 210,150'],
  },
  {
    name: 'two holes 12 mm apart',
    material: { bridge: 12 },
    pieces: [plain([hole(200, 150, 10), hole(232, 150, 10)])],
    found: [],
  },
  {
    name: 'a hole too small for the punch',
    material: { punch: 4 },
    pieces: [plain([hole(200, 150, 1.9)])],
    found: ['hole-small a-left 201.9,150'],
  },
  {
    name: 'a hole as small as the punch, a point to drill, a small cutout',
    material: { punch: 4 },
    pieces: [
      plain([
        hole(200, 150, 2),
        feature('HOLE', at(300, 150)),
        feature('CUTOUT', oblong(400, 100, 402, 102)),
      ]),
    ],
    found: [],
  },
];

const driversPad = feature('PAD', oblong(250, 150, 450, 250), 'DRIVER');
const pad = feature('PAD', oblong(200, 100, 300, 200));

const pads: Case[] = [
  {
    name: 'a heel pad that the other hand puts over the edge',
    hand: 'LHD',
    pieces: [piece('a', { pad: 'rubber' }, cornerless, [driversPad])],
    // 150 mm in front of the edge that is cut back; its other corners are nearer.
    found: ['pad-outside a -450,250'],
  },
  {
    name: 'the same heel pad in the hand it is drawn for',
    pieces: [piece('a', { pad: 'rubber' }, cornerless, [driversPad])],
    found: [],
  },
  {
    name: 'the same heel pad for both sides',
    options: { heelPads: 'both' },
    pieces: [piece('a', { pad: 'rubber' }, cornerless, [driversPad])],
    found: ['pad-outside a -450,250'],
  },
  {
    name: 'a heel pad on a fold line',
    options: { heelPads: 'both' },
    pieces: [plain([pad, feature('FOLD', line(100, 150, 500, 150))], { pad: 'rubber' })],
    found: ['pad-on-fold a-left 300,150'],
  },
  {
    name: 'a heel pad beside a fold line',
    options: { heelPads: 'both' },
    pieces: [plain([pad, feature('FOLD', line(100, 201, 500, 201))], { pad: 'rubber' })],
    found: [],
  },
  {
    name: 'a heel pad over a cutout',
    options: { heelPads: 'both' },
    pieces: [plain([pad, feature('CUTOUT', oblong(280, 120, 320, 140))], { pad: 'rubber' })],
    found: ['pad-on-cutout a-left 300,120'],
  },
  {
    name: 'a heel pad over a point to drill',
    options: { heelPads: 'both' },
    pieces: [plain([pad, feature('HOLE', at(250, 150))], { pad: 'rubber' })],
    found: ['pad-on-cutout a-left 250,150'],
  },
  {
    name: 'a heel pad over a hole of the other side',
    options: { heelPads: 'both' },
    pieces: [plain([pad, feature('HOLE', at(250, 150), 'RIGHT')], { pad: 'rubber' })],
    found: [],
  },
  {
    name: 'two heel pads that overlap',
    pieces: [
      piece('a', { pad: 'rubber' }, oblong(-500, 0, 500, 300), [
        feature('PAD', oblong(-100, 50, 10, 100)),
        feature('PAD', oblong(-10, 60, 100, 90)),
      ]),
    ],
    found: ['pads-overlap a 10,60'],
  },
  {
    name: 'two heel pads on one side',
    pieces: [
      piece('a', { pad: 'rubber' }, oblong(-500, 0, 500, 300), [
        feature('PAD', oblong(100, 50, 200, 100)),
        feature('PAD', oblong(300, 50, 400, 100)),
      ]),
    ],
    found: ['same-label a-pad-right'],
  },
];

/** Pieces of both sides, each drawn where it belongs. */
const leftOne = piece('b', { side: 'left' }, oblong(-500, 400, -100, 700));
const rightOne = piece('c', { side: 'right' }, oblong(100, 400, 500, 700));

/** The pile line of a piece, which leans rearward, turned about. */
function forwardOn({ pile }: Piece): Piece['pile'] {
  return { from: pile!.to, to: pile!.from };
}

const piles: Case[] = [
  { name: 'no pile', pieces: [{ ...plain(), pile: null }], found: ['no-pile a-left'] },
  {
    name: 'no pile on what has none',
    pieces: [{ ...plain([], { material: 'board' }), pile: null }],
    found: [],
  },
  {
    name: 'a pile against the set’s',
    sheet: { pile: 'forward' },
    pieces: [plain()],
    found: ['pile-direction a-left'],
  },
  { name: 'a pile as the set says', sheet: { pile: 'rearward' }, pieces: [plain()], found: [] },
  { name: 'a pile 2 degrees off', sheet: { pile: 268 }, pieces: [plain()], found: [] },
  {
    name: 'a pile 3 degrees off',
    sheet: { pile: 273 },
    pieces: [plain()],
    found: ['pile-direction a-left'],
  },
  {
    name: 'piles of one cloth against each other, where the set says none',
    pieces: [leftOne, { ...rightOne, pile: forwardOn(rightOne) }],
    found: ['piles-differ'],
  },
  {
    name: 'piles against each other, of which one is meant so',
    pieces: [
      leftOne,
      { ...rightOne, pile: forwardOn(rightOne), entry: { ...rightOne.entry, pile: 'forward' } },
    ],
    found: [],
  },
  {
    name: 'a pile as the piece says, not the set',
    sheet: { pile: 'forward' },
    pieces: [plain([], { pile: -90 })],
    found: [],
  },
];

const raw = [
  named('RAW', 'front', line(100, 300, 500, 300)),
  named('RAW', 'sill', line(100, 0, 500, 0)),
];

/** Legs of 300 and of 1000 mm with a sharp inside corner, or one of a radius round r beyond it. */
function angled(leg: number, width: number, r: number): Path {
  const inner =
    r === 0
      ? [{ x: width, y: width, bulge: 0 }]
      : [
          { x: width + r, y: width, bulge: -Math.tan(Math.PI / 8) },
          { x: width, y: width + r, bulge: 0 },
        ];
  const flat = ([x, y]: readonly [number, number]) => ({ x, y, bulge: 0 });
  return {
    closed: true,
    vertices: [
      flat([0, 0]),
      flat([leg, 0]),
      flat([leg, width]),
      ...inner,
      flat([width, leg]),
      flat([0, leg]),
    ],
  };
}

const tape25 = { insideRadius: 25 };

const edges: Case[] = [
  {
    name: 'a board round which nothing can be wrapped',
    pieces: [plain([], { board: { material: 'board', inset: 0, wraps: 'tuck' } })],
    found: ['nothing-to-wrap a-left'],
  },
  {
    name: 'a fold on a piece that is fixed to a board',
    pieces: [
      plain([feature('FOLD', line(100, 150, 500, 150))], {
        board: { material: 'board', inset: 0 },
      }),
    ],
    found: ['fold-on-board a-left 300,150'],
  },
  {
    name: 'edges that are wrapped round a board',
    pieces: [
      plain([feature('TUCK', line(500, 0, 500, 300))], {
        board: { material: 'board', inset: 0, wraps: 'tuck' },
        tucked: 'its board',
      }),
    ],
    found: [],
  },
  {
    name: 'a raw edge all round',
    pieces: [plain([], { edge: 'raw' })],
    // Half of 1400 mm from the first corner.
    found: ['raw-on-show a-left 500,300'],
  },
  {
    name: 'a raw edge that something covers',
    pieces: [plain([], { edge: 'raw', covered: 'the sill trim' })],
    found: [],
  },
  {
    name: 'two raw edges of which one is covered',
    pieces: [plain(raw, { covered: { sill: 'the sill trim' } })],
    found: ['raw-on-show a-left 300,300'],
  },
  { name: 'bound edges without a tape', binding: null, pieces: [plain()], found: ['no-binding'] },
  {
    name: 'no bound edges and no tape',
    binding: null,
    pieces: [plain([], { edge: 'tuck' })],
    found: [],
  },
  {
    name: 'a sharp inside corner of a bound edge',
    binding: tape25,
    pieces: [piece('a', { side: 'right' }, angled(300, 100, 0))],
    found: ['bound-corner a-right 100,100'],
  },
  {
    name: 'an inside curve of 20 mm, where the tape goes round 25',
    binding: tape25,
    pieces: [piece('a', { side: 'right' }, angled(300, 100, 20))],
    // Centre 120, 120; half way round it is 20 cos 45 nearer.
    found: ['bound-corner a-right 105.86,105.86'],
  },
  {
    name: 'an inside curve of 25 mm, where the tape goes round 25',
    binding: tape25,
    pieces: [piece('a', { side: 'right' }, angled(300, 100, 25))],
    found: [],
  },
  {
    name: 'an inside corner where the tape ends',
    binding: tape25,
    pieces: [
      piece('a', { side: 'right' }, angled(300, 100, 0), [
        feature('TUCK', line(300, 100, 100, 100)),
      ]),
    ],
    found: [],
  },
  {
    name: 'an inside corner in an edge of two traces',
    binding: tape25,
    pieces: [
      piece('a', { side: 'right' }, angled(300, 100, 0), [
        feature('BOUND', line(300, 100, 100, 100)),
        feature('BOUND', line(100, 100, 100, 300)),
      ]),
    ],
    found: ['bound-corner a-right 100,100'],
  },
  {
    name: 'an inside curve of 120 mm of a turned edge, 25 wide',
    pieces: [piece('a', { side: 'right', edge: 'turned' }, angled(1000, 300, 120))],
    // Centre 420, 420; half way round it is 120 cos 45 nearer.
    found: ['turned-corner a-right 335.15,335.15'],
  },
  {
    name: 'an inside curve of 125 mm of a turned edge, 25 wide',
    pieces: [piece('a', { side: 'right', edge: 'turned' }, angled(1000, 300, 125))],
    found: [],
  },
  {
    name: 'a sharp inside corner of a turned edge',
    pieces: [piece('a', { side: 'right', edge: 'turned' }, angled(1000, 300, 0))],
    found: ['turned-corner a-right 300,300'],
  },
  {
    name: 'two pieces whose parts get one label',
    pieces: [
      piece('a', { side: 'pair', drawnSide: 'left' }, oblong(-500, 0, -100, 300)),
      piece('a-left', {}, oblong(-50, 0, 50, 300)),
    ],
    found: ['same-label a-left'],
  },
];

/** Across the vehicle, 1000 mm wide; what is sewn lies in front or at the sides. */
function floor(features: Feature[], sheet: Partial<Piece['entry']> = {}): Piece {
  return piece('floor', { edge: 'tuck', ...sheet }, oblong(-500, 0, 500, 300), features);
}
const front = feature('SEAM', line(500, 300, -500, 300));
const floorSides = [
  named('SEAM', 'side', line(500, 0, 500, 300)),
  named('SEAM', 'side', line(-500, 300, -500, 0)),
];

/** In front of the floor, from -500 to `right`, sewn at its foot. */
function dash(right: number, features: Feature[] = [], name = 'dash'): Piece {
  return piece(name, { edge: 'tuck' }, oblong(-500, 300, right, 500), [
    feature('SEAM', line(-500, 300, right, 300)),
    ...features,
  ]);
}

/** Beside the floor on both sides, drawn right. */
function wall(features: Feature[] = []): Piece {
  return piece(
    'wall',
    { side: 'pair', drawnSide: 'right', edge: 'tuck' },
    oblong(500, 0, 700, 300),
    [feature('SEAM', line(500, 300, 500, 0)), ...features],
  );
}

/** In front of the floor from the centreline outwards, drawn right. */
function flap(width: number, features: Feature[] = []): Piece {
  return piece(
    'flap',
    { side: 'pair', drawnSide: 'right', edge: 'tuck' },
    oblong(0, 300, width, 400),
    [feature('SEAM', line(0, 300, width, 300)), ...features],
  );
}

const notch = (x: number, y: number): Feature => feature('NOTCH', at(x, y));
const joined = (a: string, b: string, ease?: number): SetContent['seams'][number] =>
  ease === undefined ? { join: [a, b] } : { join: [a, b], ease };
const floorToDash = { seams: [joined('floor', 'dash')] };

const seams: Case[] = [
  {
    name: 'a seam that fits, with a notch to meet',
    sheet: floorToDash,
    pieces: [floor([front, notch(200, 300)]), dash(500, [notch(200, 300)])],
    found: [],
  },
  {
    name: 'a seam 10 mm longer on one side',
    sheet: floorToDash,
    pieces: [floor([front]), dash(510)],
    found: ['seam-length floor 0,300'],
  },
  {
    name: 'a seam 10 mm longer on one side, with ease for it',
    sheet: { seams: [joined('floor', 'dash', 10)] },
    pieces: [floor([front]), dash(510)],
    found: [],
  },
  {
    name: 'a seam 4 mm longer on one side, where 3 may be eased in',
    sheet: floorToDash,
    pieces: [floor([front]), dash(504)],
    found: ['seam-length floor 0,300'],
  },
  {
    name: 'a seam 3 mm longer on one side, where 3 may be eased in',
    sheet: floorToDash,
    pieces: [floor([front]), dash(503)],
    found: [],
  },
  {
    name: 'a seam with ease, and notches that fit by their shares alone',
    sheet: { seams: [joined('floor', 'dash', 10)] },
    // 19 of 1000 from the right end, and 10 of 1010, which is 9.9 of 1000; left to right 981 and 1000.
    pieces: [floor([front, notch(481, 300)]), dash(510, [notch(500, 300)])],
    found: [],
  },
  {
    name: 'a seam with ease, and notches at one share of it',
    sheet: { seams: [joined('floor', 'dash', 40)] },
    // A quarter from the left end of each: 250 of 1000, 260 of 1040.
    pieces: [floor([front, notch(-250, 300)]), dash(540, [notch(-240, 300)])],
    found: [],
  },
  {
    name: 'notches 4 mm apart, where 3 may be eased in',
    sheet: floorToDash,
    pieces: [floor([front, notch(200, 300)]), dash(500, [notch(204, 300)])],
    found: ['seam-notch dash 204,300', 'seam-notch floor 200,300'],
  },
  {
    name: 'notches 3 mm apart, where 3 may be eased in',
    sheet: floorToDash,
    pieces: [floor([front, notch(200, 300)]), dash(500, [notch(203, 300)])],
    found: [],
  },
  {
    name: 'a notch beside the seam, on the next edge',
    sheet: floorToDash,
    pieces: [floor([front, notch(500, 296)]), dash(500)],
    found: [],
  },
  {
    name: 'a notch at the end of a seam, which is a corner of one of the two',
    sheet: floorToDash,
    pieces: [
      floor([front, notch(500, 300)]),
      piece('dash', { edge: 'tuck' }, oblong(-500, 300, 600, 500), [
        feature('SEAM', line(-500, 300, 500, 300)),
        notch(500, 300),
      ]),
    ],
    found: [],
  },
  {
    name: 'a notch of a tucked edge in an inside corner, whose slit begins by the seam',
    sheet: { seams: [joined('angle', 'lid')] },
    pieces: [
      // 30 mm out it begins 10.2 mm from the seam, which has 10 of allowance.
      piece('angle', { edge: 'tuck' }, angled(300, 100, 0), [
        feature('SEAM', line(300, 100, 100, 100)),
        notch(100, 110.2),
      ]),
      piece('lid', {}, oblong(100, 100, 300, 200), [feature('SEAM', line(100, 100, 300, 100))]),
    ],
    found: [],
  },
  {
    name: 'a seam at an edge that is not there',
    sheet: { seams: [joined('floor/front', 'dash')] },
    pieces: [floor([front]), dash(500)],
    found: ['seam-edge floor'],
  },
  {
    name: 'a seam at a named edge',
    sheet: { seams: [joined('floor/front', 'dash')] },
    pieces: [floor([named('SEAM', 'front', front.path)]), dash(500)],
    found: [],
  },
  {
    name: 'a seam that fits two edges',
    sheet: floorToDash,
    pieces: [floor([front, feature('SEAM', line(-500, 0, 500, 0))]), dash(500)],
    // Counter-clockwise from the corner at -500, 0 the front is the second of the two.
    found: ['seam-several floor 0,300'],
  },
  {
    name: 'a seam edge that no seam names',
    pieces: [floor([front])],
    found: ['seam-alone floor 0,300'],
  },
  {
    name: 'a seam edge whose partner lies on the other side',
    sheet: { seams: [joined('a', 'b')] },
    pieces: [
      piece('a', { side: 'left', edge: 'tuck' }, oblong(-300, 0, -100, 100), [
        feature('SEAM', line(-100, 0, -100, 100)),
      ]),
      piece('b', { side: 'right', edge: 'tuck' }, oblong(100, 0, 300, 100), [
        feature('SEAM', line(100, 0, 100, 100)),
      ]),
    ],
    found: ['seam-alone a-left -100,50', 'seam-alone b-right 100,50'],
  },
  {
    name: 'a partner for the other hand only',
    sheet: floorToDash,
    pieces: [floor([front]), piece('dash', { only: 'LHD' }, oblong(-500, 300, 500, 500))],
    found: ['seam-alone floor 0,300'],
  },
  {
    name: 'two of one piece and one of the other',
    sheet: floorToDash,
    pieces: [floor([front], { quantity: 2 }), dash(500)],
    found: ['seam-alone floor-2 0,300'],
  },
  {
    name: 'one edge in two seams',
    sheet: { seams: [joined('floor', 'dash'), joined('floor', 'cover')] },
    pieces: [floor([front]), dash(500), dash(500, [], 'cover')],
    found: ['seam-twice floor 0,300'],
  },
  {
    name: 'a pair at both sides of a centre piece',
    sheet: { seams: [joined('floor/side', 'wall')] },
    pieces: [floor([...floorSides, notch(500, 100), notch(-500, 100)]), wall([notch(500, 100)])],
    found: [],
  },
  {
    name: 'a pair at both sides, and a notch on one of them missing',
    sheet: { seams: [joined('floor/side', 'wall')] },
    pieces: [floor([...floorSides, notch(500, 100)]), wall([notch(500, 100)])],
    found: ['seam-notch wall-left -500,100'],
  },
  {
    name: 'two centre pieces joined at both sides by edges of one name',
    sheet: { seams: [joined('floor/side', 'cover/side')] },
    pieces: [
      floor([...floorSides, notch(500, 100)]),
      piece('cover', { edge: 'tuck' }, oblong(-400, 0, 400, 300), [
        named('SEAM', 'side', line(400, 0, 400, 300)),
        named('SEAM', 'side', line(-400, 300, -400, 0)),
        // Face to face the edges run against each other: 100 from the rear meets 100 from the front.
        notch(400, 200),
      ]),
    ],
    found: [],
  },
  {
    name: 'a pair that shares an edge across the middle',
    sheet: { seams: [joined('floor', 'flap')] },
    pieces: [floor([front, notch(0, 300)]), flap(500)],
    found: [],
  },
  {
    name: 'a pair that shares an edge across the middle, with notches',
    sheet: { seams: [joined('floor', 'flap')] },
    pieces: [floor([front, notch(200, 300), notch(-200, 300)]), flap(500, [notch(200, 300)])],
    found: [],
  },
  {
    name: 'a pair that is too narrow for the edge it shares',
    sheet: { seams: [joined('floor', 'flap')] },
    pieces: [floor([front]), flap(490)],
    found: ['seam-length floor 0,300', 'seam-length floor 0,300'],
  },
  {
    name: 'a pair that is sewn to itself',
    sheet: { seams: [joined('flap', 'flap')] },
    pieces: [flap(500)],
    found: [],
  },
];

const axisOf = (x0: number, y0: number, x1: number, y1: number): Piece['axis'] => ({
  from: { x: x0, y: y0 },
  to: { x: x1, y: y1 },
});
const upright = axisOf(0, 0, 0, 100);

const places: Case[] = [
  { name: 'pieces drawn on their sides', pieces: [leftOne, rightOne], found: [] },
  {
    name: 'a piece of the left drawn on the right, among others in their places',
    pieces: [leftOne, rightOne, plain()],
    found: ['drawn-elsewhere a'],
  },
  {
    name: 'a piece drawn on the right, whose side is still a guess, among others in their places',
    pieces: [leftOne, rightOne, plain([], { open: { side: 'a guess' } })],
    found: [],
  },
  {
    name: 'a passenger’s piece drawn on the driver’s side, among others in their places',
    pieces: [leftOne, rightOne, plain([], { side: 'passenger' })],
    found: ['drawn-elsewhere a'],
  },
  {
    name: 'the left half of a pair drawn on the right, among others in their places',
    pieces: [leftOne, rightOne, plain([], { side: 'pair', drawnSide: 'left' })],
    found: ['drawn-elsewhere a'],
  },
  {
    name: 'pieces that are all drawn from their corners say nothing of their places',
    pieces: [plain(), plain([], { side: 'right' }), plain([], { side: 'driver' })].map(
      (one, i) => ({ ...one, name: `a${i}` }),
    ),
    found: ['stacked'],
  },
  {
    name: 'a piece of the left that reaches across the middle, among others in their places',
    pieces: [leftOne, rightOne, piece('a', { side: 'left' }, oblong(-2, 0, 500, 300))],
    found: [],
  },
  {
    name: 'a piece of the left that the set file puts on the right',
    pieces: [plain([], { at: [20, 0] })],
    found: ['drawn-elsewhere a'],
  },
  {
    name: 'a piece of the left that the set file puts on the left',
    pieces: [plain([], { at: [-600, 0] })],
    found: [],
  },
  {
    name: 'a piece of the left drawn on the right of the centreline',
    pieces: [{ ...plain(), axis: upright }],
    found: ['drawn-elsewhere a'],
  },
  {
    name: 'a level centreline, and nothing that says where the front is',
    pieces: [{ ...piece('a', {}, oblong(0, -50, 300, 50)), axis: axisOf(0, 0, 300, 0) }],
    found: ['axis-level a 300,0'],
  },
  {
    name: 'a level centreline, with a pile that the set file confirms',
    sheet: { pile: 'rearward' },
    // The centreline runs to the right, so the rear is to the left.
    pieces: [
      {
        ...piece('a', {}, oblong(0, -50, 300, 50)),
        axis: axisOf(0, 0, 300, 0),
        pile: { from: { x: 200, y: 0 }, to: { x: 100, y: 0 } },
      },
    ],
    found: [],
  },
  {
    name: 'a level centreline of what has no pile',
    sheet: { pile: 'rearward' },
    pieces: [
      {
        ...piece('a', { material: 'board' }, oblong(0, -50, 300, 50)),
        axis: axisOf(300, 0, 0, 0),
        pile: null,
      },
    ],
    found: ['axis-level a 0,0'],
  },
  {
    name: 'a slanting centreline',
    pieces: [{ ...piece('a', {}, oblong(0, -50, 300, 50)), axis: axisOf(0, 0, 300, 30) }],
    found: [],
  },
];

export const cases: readonly Case[] = [
  ...places,
  ...cutouts,
  ...pads,
  ...piles,
  ...edges,
  ...seams,
];
