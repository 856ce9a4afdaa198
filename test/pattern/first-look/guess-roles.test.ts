import { describe, expect, it } from 'vitest';
import { circle as roundAt, polyline as pathOfPoints } from '../../../src/geometry/paths/path.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import {
  reflection,
  rotation,
  transformPath,
  transformPoint,
} from '../../../src/geometry/paths/transform.ts';
import type { Transform } from '../../../src/geometry/paths/transform.ts';
import type { Entity } from '../../../src/drawing/drawing.ts';
import { alikeThings, kindWords, oneRoleOf } from '../../../src/pattern/first-look/alike-things.ts';
import type { GuessKind, ThingGuess } from '../../../src/pattern/first-look/guess-roles.ts';
import { guessRoles } from '../../../src/pattern/first-look/guess-roles.ts';
import type { Role } from '../../../src/pattern/layers.ts';
import { line, oblong } from '../../handing/fixtures.ts';

type Corner = readonly [x: number, y: number];

const drawn = (path: Path, layer = 'X'): Entity => ({ kind: 'path', layer, line: 1, path });
const open = (...corners: Corner[]): Path =>
  pathOfPoints(
    corners.map(([x, y]) => ({ x, y })),
    false,
  );
const dot = (x: number, y: number, layer = 'X'): Entity => ({
  kind: 'point',
  layer,
  line: 1,
  at: { x, y },
});
const words = (text: string, x: number, y: number, layer = 'X'): Entity => ({
  kind: 'text',
  layer,
  line: 1,
  at: { x, y },
  text,
  height: 10,
  deg: 0,
});

/** 1000 by 600 with one front corner off: it has no mirror line. */
const floor = pathOfPoints(
  [
    [0, 0],
    [1000, 0],
    [1000, 600],
    [150, 600],
    [0, 450],
  ].map(([x, y]) => ({ x: x!, y: y! })),
  true,
);
/** Symmetrical in x = 500, with an arc in front. */
const mat: Path = {
  closed: true,
  vertices: [
    { x: 0, y: 0, bulge: 0 },
    { x: 1000, y: 0, bulge: 0 },
    { x: 900, y: 600, bulge: 0.2 },
    { x: 100, y: 600, bulge: 0 },
  ],
};

function rolesOf({ guesses }: ThingGuess): Role[] {
  return guesses.map(({ role }) => role);
}

/** What is guessed of each thing. */
function guessed(entities: readonly Entity[], outline = floor, name?: string): ThingGuess[] {
  return guessRoles(entities, outline, new Map(), name);
}

/** One thing with its kind, whether one role is likely, and that of the first guess and of others. */
const cases: [what: string, thing: Entity, kind: GuessKind, isLikely: boolean, ...roles: Role[]][] =
  [
    ['a circle of 12', drawn(roundAt({ x: 300, y: 300 }, 6)), 'inside-round', true, 'HOLE'],
    [
      'a circle of 80',
      drawn(roundAt({ x: 300, y: 300 }, 40)),
      'inside-round',
      false,
      'HOLE',
      'CUTOUT',
    ],
    ['a small oblong', drawn(oblong(300, 300, 380, 350)), 'inside-closed', false, 'CUTOUT', 'HOLE'],
    ['a large oblong', drawn(oblong(600, 100, 900, 400)), 'pad-like', false, 'PAD', 'CUTOUT'],
    ['an oblong half outside', drawn(oblong(900, 100, 1100, 200)), 'off-piece', false, 'MARK'],
    ['a point inside', dot(300, 300), 'inside-point', true, 'HOLE'],
    ['a point on the edge', dot(300, 0.5), 'edge-point', true, 'NOTCH'],
    ['a short line at the edge', drawn(line(300, 0, 300, 6)), 'edge-line', true, 'NOTCH'],
    ['one from a hair outside', drawn(line(300, -0.05, 300, 6)), 'edge-line', true, 'NOTCH'],
    ['a tick across the edge', drawn(line(300, -6, 300, 6)), 'edge-line', true, 'NOTCH'],
    ['a V at the edge', drawn(open([297, 0], [300, 6], [303, 0])), 'edge-line', true, 'NOTCH'],
    ['a line across', drawn(line(0, 300, 1000, 300)), 'edge-to-edge', false, 'FOLD', 'STITCH'],
    ['one that is 4 mm short', drawn(line(4, 300, 996, 300)), 'edge-to-edge', false, 'FOLD'],
    [
      'a bent line across',
      drawn(open([0, 300], [500, 340], [1000, 300])),
      'edge-to-edge',
      false,
      'STITCH',
    ],
    [
      'a line along the edge',
      drawn(line(200, 0, 800, 0.4)),
      'along-outline',
      false,
      'BOUND',
      'SEAM',
      'TUCK',
    ],
    [
      'one round a corner',
      drawn(open([500, 0], [1000, 0], [1000, 600])),
      'along-outline',
      false,
      'BOUND',
    ],
    ['a line 12 mm inside', drawn(line(200, 12, 800, 12)), 'beside-inside', false, 'STITCH'],
    [
      'a line 10 mm outside',
      drawn(open([200, -10], [1010, -10], [1010, 500])),
      'beside-outside',
      false,
      'NOTE',
    ],
    ['a line inside', drawn(line(300, 200, 400, 260)), 'inside-line', false, 'MARK', 'STITCH'],
    ['a line elsewhere', drawn(line(1500, 0, 1600, 40)), 'off-piece', false, 'NOTE'],
    [
      'an arrow of one line',
      drawn(open([500, 400], [500, 200], [490, 230])),
      'arrow',
      true,
      'PILE',
    ],
  ];

describe('what a thing may be', () => {
  it.each(cases)('%s', (_, thing, kind, isLikely, ...roles) => {
    const [one, ...more] = guessed([drawn(floor, 'OUTLINE'), thing]);
    expect(more).toEqual([]);
    expect(one!.index).toBe(1);
    expect(one!.guesses.map((guess) => guess.kind)).toEqual(one!.guesses.map(() => kind));
    expect(rolesOf(one!).slice(0, roles.length)).toEqual(roles);
    expect(one!.guesses[0]!.isLikely).toBe(isLikely);
    expect(one!.guesses.slice(1).some((guess) => guess.isLikely)).toBe(false);
    expect(new Set(rolesOf(one!)).size).toBe(one!.guesses.length);
  });

  it.each<[string, Transform]>([
    ['turned', rotation(33)],
    ['mirrored', reflection({ x: 5, y: 70 }, 70)],
  ])('is the same where the piece is %s', (_, motion) => {
    const outline = transformPath(motion, floor);
    for (const [, thing, kind, , ...roles] of cases) {
      const there: Entity =
        thing.kind === 'path'
          ? { ...thing, path: transformPath(motion, thing.path) }
          : { ...thing, at: transformPoint(motion, thing.at) };
      const [one] = guessed([there], outline);
      expect([one!.guesses[0]!.kind, ...rolesOf(one!).slice(0, roles.length)]).toEqual([
        kind,
        ...roles,
      ]);
    }
  });

  it('is nothing for what lies on a layer that says what it is', () => {
    expect(guessed([drawn(line(300, 0, 300, 6), 'FOLD'), dot(9, 9, 'NOTE')])).toEqual([]);
  });

  it('says its reason in words, with the size', () => {
    const [hole, notch] = guessed([
      drawn(roundAt({ x: 300, y: 300 }, 19)),
      drawn(line(300, 0, 300, 6)),
    ]);
    expect(hole!.guesses[0]!.words).toBe('a closed line inside the piece, 38 mm round');
    expect(notch!.guesses[0]!.words).toBe('a short line at the edge, 6 mm long');
  });
});

describe('a line in the middle of an outline that is symmetrical', () => {
  it.each([
    ['from end to end', line(500, -20, 500, 900), 'AXIS'],
    ['inside it', line(500, 100, 500, 600), 'AXIS'],
    ['1 mm beside it', line(501, 0, 501, 700), 'AXIS'],
    ['20 mm beside it', line(520, -20, 520, 900), 'FOLD'],
    ['across it', line(-20, 300, 1020, 300), 'FOLD'],
  ])('%s is its axis, and no other', (_, path, role) => {
    expect(rolesOf(guessed([drawn(path)], mat)[0]!)[0]).toBe(role);
  });

  it('may be drawn in dashes, which are one thing', () => {
    const dashes = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9].map((i) =>
      drawn(line(500, i * 70, 500, i * 70 + 45)),
    );
    const all = guessed([drawn(mat, 'OUTLINE'), ...dashes], mat);
    expect(all.map((one) => rolesOf(one)[0])).toEqual(dashes.map(() => 'AXIS'));
    expect(all.map(({ group }) => group)).toEqual(
      dashes.map(() => [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]),
    );
  });
});

describe('lines that are one thing', () => {
  it('make an arrow, and others beside them do not', () => {
    const arrow = [line(500, 400, 500, 200), line(500, 200, 490, 230), line(500, 200, 510, 230)];
    const [shaft, barb, , other] = guessed(
      [...arrow, line(700, 200, 760, 300)].map((one) => drawn(one)),
    );
    expect(shaft!.group).toEqual([0, 1, 2]);
    expect([rolesOf(shaft!)[0], rolesOf(barb!)[0], rolesOf(other!)[0]]).toEqual([
      'PILE',
      'PILE',
      'MARK',
    ]);
  });

  it('across a piece in dashes may be a fold', () => {
    const dashes = Array.from({ length: 20 }, (_, i) => drawn(line(i * 50, 300, i * 50 + 40, 300)));
    const [first] = guessed(dashes);
    expect(rolesOf(first!)[0]).toBe('FOLD');
    expect(first!.group.length).toBe(20);
  });
});

describe('a hint beside the shape', () => {
  it('is a text that says pad', () => {
    const pad = drawn(oblong(600, 100, 700, 180));
    const [one] = guessed([pad, words('HEEL PAD', 610, 140, 'NOTE')]);
    expect(one!.guesses[0]).toMatchObject({ role: 'PAD', isLikely: true });
  });

  it('is the name of the layer, where the thing can be so', () => {
    const across = line(0, 300, 1000, 300);
    const [fold] = guessed([drawn(across, 'stitching')]);
    expect(fold!.guesses[0]).toMatchObject({ role: 'STITCH', isLikely: true });
    expect(fold!.guesses[0]!.words).toContain('its layer is called stitching');
    // A line across the piece is no notch, whatever its layer is called.
    expect(guessed([drawn(across, 'notches')])[0]!.guesses[0]!.role).toBe('FOLD');
  });
});

describe('what a text says', () => {
  it.each<[string, GuessKind]>([
    ['FLOOR, RH', 'text-name'],
    ['2 OFF', 'text-quantity'],
    ['1 EACH SIDE', 'text-pair'],
    ['MIRROR', 'text-pair'],
    ['LH', 'text-side'],
    ['L', 'text-side'],
    ['nap to rear', 'text-pile'],
    ['Material: loop', 'text-note'],
    ['check with Tom before cutting', 'text-note'],
  ])('%s: %s', (text, kind) => {
    const [one] = guessed([words(text, 500, 300)], floor, 'floor');
    expect(one!.guesses).toMatchObject([{ role: 'NOTE', kind, isLikely: true }]);
  });

  it('may be the name of the edge line beside it, or of another thing', () => {
    const seam = drawn(line(0, 0, 1000, 0), 'SEAM');
    const hole = drawn(roundAt({ x: 300, y: 300 }, 40), 'HOLE');
    const [edge, thing] = guessed([seam, hole, words('rear', 500, -20), words('lever', 290, 300)]);
    expect(edge!.guesses.map(({ role, kind }) => [role, kind])).toEqual([
      ['SEAM', 'text-edge'],
      ['NOTE', 'text-note'],
    ]);
    expect(thing!.guesses.map(({ kind }) => kind)).toEqual(['text-thing']);
  });
});

describe('things that are alike', () => {
  const pieces = [
    { piece: 'a', guessed: guessed([drawn(line(300, 0, 300, 6)), drawn(line(0, 300, 1000, 300))]) },
    {
      piece: 'b',
      guessed: guessed([
        drawn(line(400, 0, 400, 9), 'x'),
        drawn(line(450, 0, 450, 9), 'Y'),
        dot(500, 0),
      ]),
    },
  ];

  it('are those of one layer that look the same, on whichever piece', () => {
    expect(alikeThings(pieces).map(({ layer, kind, things }) => [layer, kind, things])).toEqual([
      [
        'X',
        'edge-line',
        [
          { piece: 'a', index: 0 },
          { piece: 'b', index: 0 },
        ],
      ],
      ['X', 'edge-to-edge', [{ piece: 'a', index: 1 }]],
      ['Y', 'edge-line', [{ piece: 'b', index: 1 }]],
      ['X', 'edge-point', [{ piece: 'b', index: 2 }]],
    ]);
    expect(alikeThings(pieces)[0]!.guesses[0]!.role).toBe('NOTCH');
    for (const { kind } of alikeThings(pieces)) expect(kindWords[kind]).not.toBe('');
  });

  it('have one role together only where it is likely for each of them', () => {
    const of = (...entities: Entity[]) =>
      oneRoleOf(guessed(entities).map(({ guesses }) => guesses));
    const notch = drawn(line(300, 0, 300, 6));
    expect(of(notch, dot(500, 0))!.role).toBe('NOTCH');
    expect(of(notch, drawn(line(0, 300, 1000, 300)))).toBeNull();
    expect(of(notch, dot(500, 300))).toBeNull();
    // Of the larger circle HOLE is the first guess too, but others are as sensible.
    const hole = drawn(roundAt({ x: 300, y: 300 }, 6));
    expect(of(hole)!.role).toBe('HOLE');
    expect(of(hole, drawn(roundAt({ x: 600, y: 300 }, 40)))).toBeNull();
    expect(of(drawn(line(0, 300, 1000, 300)))).toBeNull();
    expect(oneRoleOf([])).toBeNull();
  });
});
