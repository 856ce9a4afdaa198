import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/base/findings.ts';
import { textEntity } from '../../../src/drawing/entity-of.ts';
import { polyline } from '../../../src/geometry/paths/path.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import type { Feature } from '../../../src/pattern/feature.ts';
import { checkPiece, checkSetContent } from '../../../src/pattern/rules/rules.ts';
import type { SetContent } from '../../../src/pattern/set-file.ts';
import { setSchema } from '../../../src/pattern/set-file.ts';
import { feature, line, oblong, piece } from '../../handing/fixtures.ts';

type SheetInput = Record<string, unknown>;

/** A set file of those pieces, each on the centreline and of carpet where it does not say otherwise. */
function sheetOf(pieces: Record<string, SheetInput>, more: SheetInput = {}): SetContent {
  const entries = Object.entries(pieces).map(([name, sheet]) => [
    name,
    { side: 'centre', material: 'carpet', ...sheet },
  ]);
  return setSchema.parse({
    title: 'test',
    drawn: 'RHD',
    drawing: 'test.dxf',
    pieces: Object.fromEntries(entries),
    ...more,
  });
}

function findingsOf(sheet: SetContent, pieces: readonly Piece[] = []): Finding[] {
  const yaml = {
    file: 'set.yaml',
    value: sheet,
    placeOf: (path: readonly PropertyKey[]) => ({ file: path.map(String).join('.') }),
    stands: () => true,
  };
  return checkSetContent(yaml, pieces, new Set(), (name) => ['carpet', 'rubber'].includes(name));
}

/** `rule path-in-the-file`. */
function found(sheet: SetContent, pieces: readonly Piece[] = []): string[] {
  return findingsOf(sheet, pieces).map(({ rule, where }) => `${rule} ${where.file!}`);
}

describe('pieces that are not told apart', () => {
  it('by hyphens alone', () => {
    expect(found(sheetOf({ 'cab-floor': {}, cabfloor: {} }))).toEqual([
      'like-names pieces.cabfloor',
    ]);
    expect(found(sheetOf({ 'cab-floor': {}, 'cab-floors': {} }))).toEqual([]);
  });

  it('by one title, or by the name of one that is the title of the other', () => {
    const one = { title: 'Side shelf' };
    expect(found(sheetOf({ shelf: one, lid: one }))).toEqual(['one-title pieces.lid']);
    expect(found(sheetOf({ 'side-shelf': {}, lid: one }))).toEqual(['one-title pieces.lid']);
    expect(found(sheetOf({ shelf: one, lid: {} }))).toEqual([]);
  });

  const twins: [string, SheetInput, SheetInput, boolean][] = [
    ['one block, one side', { side: 'left' }, { side: 'left' }, true],
    ['one block, in other letters', { block: 'MAT' }, { block: 'mat' }, true],
    ['one block, left and right', { side: 'left' }, { side: 'right' }, false],
    ['one block, driver and passenger', { side: 'driver' }, { side: 'passenger' }, false],
    ['one block, a pair and its left', { side: 'pair', drawnSide: 'left' }, { side: 'left' }, true],
    ['one block, one for each hand', { only: 'LHD' }, { only: 'RHD' }, false],
    ['one block, both for one hand', { only: 'LHD' }, { only: 'LHD' }, true],
    ['one block, left and driver', { side: 'left' }, { side: 'driver' }, true],
    ['one block, right and passenger', { side: 'right' }, { side: 'passenger' }, true],
    [
      'one block, left and driver, each for a hand in which they differ',
      { side: 'left' },
      { side: 'driver', only: 'RHD' },
      false,
    ],
    ['two blocks', { block: 'A' }, { block: 'B' }, false],
    ['one block of two files', { file: 'a.dxf' }, { file: 'b.dxf' }, false],
  ];
  it.each(twins)('%s', (_, one, other, twin) => {
    const sheet = sheetOf({
      a: { block: 'MAT', ...one },
      b: { block: 'MAT', ...other },
    });
    expect(found(sheet)).toEqual(twin ? ['same-block pieces.b'] : []);
  });

  it('says in which hand they are cut for one side', () => {
    const sheet = sheetOf({ a: { block: 'M', side: 'left' }, b: { block: 'M', side: 'driver' } });
    expect(findingsOf(sheet)[0]!.message).toContain('for the same side in LHD');
    const both = sheetOf({ a: { block: 'M' }, b: { block: 'M' } });
    expect(findingsOf(both)[0]!.message).toMatch(/for the same side\.$/);
  });

  it('by one file that has no blocks', () => {
    const sheet = sheetOf({ a: { file: 'mat.dxf' }, b: { file: 'mat.dxf' } });
    expect(found(sheet)).toEqual(['same-block pieces.b']);
  });

  it('blocks left out are called after their pieces', () => {
    expect(found(sheetOf({ a: {}, b: { block: 'A' } }))).toEqual(['same-block pieces.b']);
    expect(found(sheetOf({ a: {}, b: {} }))).toEqual([]);
  });
});

describe('names that say a side', () => {
  const cases: [string, Record<string, SheetInput>, ...string[]][] = [
    ['right, and left', { 'sill-rh': { side: 'left' } }, 'name-side pieces.sill-rh.side'],
    [
      'left, and the right half of a pair',
      { 'mat-left': { side: 'pair', drawnSide: 'right' } },
      'name-side pieces.mat-left.side',
    ],
    ['left, and the left half of a pair', { 'mat-l': { side: 'pair', drawnSide: 'left' } }],
    // Drawn RHD: the driver sits on the right.
    ['left, and the driver', { 'left-mat': { side: 'driver' } }, 'name-side pieces.left-mat.side'],
    ['right, and the driver', { 'right-mat': { side: 'driver' } }],
    [
      'the driver, and the passenger',
      { 'driver-mat': { side: 'passenger' } },
      'name-side pieces.driver-mat.side',
    ],
    [
      'the driver, and right',
      { 'driver-mat': { side: 'right' } },
      'name-side pieces.driver-mat.side',
    ],
    ['the driver, and right, decided', { 'driver-mat': { side: 'right', decided: 'why' } }],
    ['both sides, and left', { 'left-to-right-bar': { side: 'left' } }],
    [
      'right, and no left one',
      { 'sill-right': { side: 'right' } },
      'no-counterpart pieces.sill-right.side',
    ],
    ['right, and no left one, decided', { 'sill-right': { side: 'right', decided: 'no step' } }],
    ['both, one in other words', { 'sill-right': { side: 'right' }, 'sill-lh': { side: 'left' } }],
    ['right, and one without a side', { 'sill-right': { side: 'right' }, sill: { side: 'left' } }],
    ['letters', { 'step-l': { side: 'left' }, 'step-r': { side: 'right' } }],
    ['nothing', { 'slider-step': { side: 'right' }, bright: { side: 'left' } }],
  ];
  it.each(cases)('%s', (_, pieces, ...expected) => {
    const blocks = Object.entries(pieces).map(([name, sheet], i) => [
      name,
      { block: `B${i}`, ...sheet },
    ]);
    expect(found(sheetOf(Object.fromEntries(blocks)))).toEqual(expected);
  });
});

describe('a left and a right piece', () => {
  const holes = [
    feature('CUTOUT', oblong(400, 300, 440, 380)),
    feature('CUTOUT', oblong(480, 300, 520, 380)),
  ];
  const toe = (name: string, entry: Partial<Piece['entry']>, features: Feature[] = []): Piece =>
    piece(name, entry, oblong(300, 0, 700, 400), features);
  const rules = (...pieces: Piece[]): string[] => {
    const sheet = sheetOf(Object.fromEntries(pieces.map(({ name, entry }) => [name, entry])));
    return findingsOf(sheet, pieces)
      .filter(({ rule }) => ['twins-differ', 'twins-apart', 'could-be-pair'].includes(rule))
      .map(({ severity, rule, where }) => `${severity} ${rule} ${where.piece!}`);
  };
  const right = toe('toe', { side: 'right' }, holes);
  const left = toe('toe-2', { side: 'left' });
  const asked = ['warning twins-differ toe'];

  it('of like name, one with cutouts that the other lacks, are asked about', () => {
    expect(rules(right, left)).toEqual(asked);
    const [one] = findingsOf(sheetOf({ toe: right.entry, 'toe-2': left.entry }), [right, left]);
    expect(one!.message).toContain('a CUTOUT at 420.0, 340.0 and a CUTOUT at 500.0, 340.0');
    expect(one!.message).toContain('stay on the right in LHD, which is then the passenger’s side');
    expect(one!.todo).toMatch(/"side: driver" here and "side: passenger".*CUTOUT-DRIVER.*-RIGHT/);
    expect(one!.where.at).toEqual({ x: 420, y: 340 });
  });

  it('are asked about whatever their names are, if their outlines are mirror images', () => {
    expect(rules(right, toe('other', { side: 'left' }))).toEqual(asked);
    const wider = piece('other', { side: 'left' }, oblong(0, 0, 410, 400));
    expect(rules(right, wider)).toEqual([]);
  });

  it('are asked about where the outlines differ, by the shapes of what is cut', () => {
    const wider = (features: Feature[]): Piece =>
      piece('toe-lh', { side: 'left' }, oblong(-700, 0, -290, 400), features);
    expect(rules(right, wider([]))).toEqual(asked);
    const same = [
      feature('CUTOUT', oblong(-450, 290, -410, 370)),
      feature('CUTOUT', oblong(-530, 290, -490, 370)),
    ];
    expect(rules(right, wider(same))).toEqual([]);
  });

  it('are settled by a side, a suffix, or a decision, and wait for the side', () => {
    expect(
      rules(toe('toe', { side: 'driver' }, holes), toe('toe-2', { side: 'passenger' })),
    ).toEqual([]);
    const fixed = holes.map((one) => ({ ...one, follows: 'RIGHT' as const }));
    expect(rules(toe('toe', { side: 'right' }, fixed), left)).toEqual(['note could-be-pair toe']);
    expect(rules(right, toe('toe-2', { side: 'left', decided: 'a drain' }))).toEqual([]);
    expect(rules(right, toe('toe-2', { side: 'left', open: { side: 'a guess' } }))).toEqual([]);
  });

  it('of which one alone was made to go with the driver are told', () => {
    const driver = toe('toe', { side: 'driver' }, holes);
    expect(rules(driver, left)).toEqual(['warning twins-apart toe']);
    const passenger = toe('toe', { side: 'passenger' });
    expect(rules(passenger, toe('toe-2', { side: 'right' }))).toEqual(['warning twins-apart toe']);
    expect(rules(driver, toe('toe-2', { side: 'left', decided: 'a step' }))).toEqual([]);
    expect(rules(driver, toe('mat', { side: 'left' }))).toEqual([]);
  });

  it('that are mirror images in all that is cut could be one pair', () => {
    const images = [
      feature('CUTOUT', oblong(480, 300, 520, 380)),
      feature('CUTOUT', oblong(560, 300, 600, 380)),
    ];
    // Within the oblong from 300 to 700, the image of x is 1000 - x.
    expect(rules(right, toe('toe-2', { side: 'left' }, images))).toEqual([
      'note could-be-pair toe',
    ]);
    // Named for their sides, they are meant to be two.
    const named = [toe('toe-r', { side: 'right' }, holes), toe('toe-l', { side: 'left' }, images)];
    expect(rules(...named)).toEqual([]);
    const shifted = [images[0]!, feature('CUTOUT', oblong(565, 300, 605, 380))];
    expect(rules(right, toe('toe-2', { side: 'left' }, shifted))).toEqual([
      ...asked,
      'warning twins-differ toe-2',
    ]);
  });
});

describe('a piece that may be drawn half', () => {
  const shape = oblong(0, 0, 600, 300);
  const rules = (...pieces: Piece[]): string[] => {
    const sheet = sheetOf(Object.fromEntries(pieces.map(({ name, entry }) => [name, entry])));
    return findingsOf(sheet, pieces)
      .filter(({ rule }) => rule === 'half-drawn')
      .map(({ severity, where }) => `${severity} ${where.piece!}`);
  };
  const axis = { from: { x: 0, y: -50 }, to: { x: 0, y: 400 } };

  it('is one whose straight edge lies along its centreline', () => {
    const board = piece('board', {}, shape);
    expect(rules(board)).toEqual(['error board']);
    expect(rules(piece('board', { half: true }, shape))).toEqual([]);
    expect(rules(piece('board', { decided: 'it lies there' }, shape))).toEqual([]);
    expect(rules(piece('board', { open: { side: 'a guess' } }, shape))).toEqual([]);
    expect(rules(piece('board', {}, oblong(-2, 0, 600, 300)))).toEqual([]);
    expect(rules(piece('board', {}, oblong(2, 0, 600, 300)))).toEqual([]);
    // Of two errors of one cause, the other is not told.
    expect(checkPiece(board, 'RHD').map(({ rule }) => rule)).not.toContain('axis-off-middle');
  });

  it('is one of the left or the right, unless it has its twin on the other side', () => {
    const right = { ...piece('board', { side: 'right' }, shape), axis };
    const left = { ...piece('shelf', { side: 'left' }, oblong(-600, 0, 0, 300)), axis };
    expect(rules(right)).toEqual(['warning board']);
    expect(rules(right, left)).toEqual([]);
  });

  it('is one whose name says so', () => {
    const whole = oblong(-300, 0, 300, 300);
    expect(rules(piece('board-half', {}, whole))).toEqual(['warning board-half']);
    expect(rules(piece('half-board', { half: true }, whole))).toEqual([]);
    expect(rules(piece('half-board', { side: 'pair', drawnSide: 'left' }, whole))).toEqual([]);
    expect(rules(piece('behalf', {}, whole))).toEqual([]);
  });
});

describe('notes that ask for two', () => {
  const check = (text: string, entry: Partial<Piece['entry']>, others: string[] = []): string[] => {
    const step = piece('step-l', entry, oblong(-50, 0, 50, 100));
    const notes = [textEntity('NOTE', text, { x: 10, y: 20 }, 5)];
    const all = ['step-l', ...others].map((name) => [name, { block: name.toUpperCase() }]);
    return findingsOf(sheetOf(Object.fromEntries(all)), [{ ...step, notes }]).map(
      ({ rule, where }) => `${rule} ${where.at!.x},${where.at!.y}`,
    );
  };
  const asked = ['note-says-pair 10,20'];
  it.each(['1 EACH SIDE', 'Pair', 'MIRROR', 'cut LH & RH', 'HANDED', 'opposite hand'])(
    'asks about "%s"',
    (text) => {
      expect(check(text, { side: 'left' })).toEqual(asked);
      expect(check(text, { side: 'left', decided: 'one is enough' })).toEqual([]);
      expect(check(text, { side: 'pair', drawnSide: 'left' })).toEqual([]);
      expect(check(text, { half: true })).toEqual([]);
      expect(check(text, { side: 'left', open: { texts: 'what they mean' } })).toEqual([]);
      expect(check(text, { side: 'left', open: { side: 'a guess' } })).toEqual([]);
      expect(check(text, { side: 'left' }, ['step-r'])).toEqual([]);
    },
  );
  it.each(['FLOOR', 'repair patch', 'NOT HANDED', 'do not mirror', 'LEFT HANDED', 'no pair'])(
    'does not ask about "%s"',
    (text) => {
      expect(check(text, { side: 'left' })).toEqual([]);
    },
  );
  it('what goes with a person is mirrored as it is', () => {
    expect(check('MIRROR FOR LHD', { side: 'driver' })).toEqual([]);
    expect(check('HANDED', { side: 'centre', outline: 'driver' })).toEqual([]);
    expect(check('1 PAIR', { side: 'driver' })).toEqual(asked);
  });
});

describe('pieces that go under each other', () => {
  const circle = (under: Record<string, SheetInput>): string[] => {
    const pieces = Object.entries(under).map(([name, sheet], i) => [
      name,
      { block: `B${i}`, ...sheet },
    ]);
    return findingsOf(sheetOf(Object.fromEntries(pieces))).map(({ message }) => message);
  };
  const inWords = (words: string): string[] => [
    `the set file puts ${words}: in a circle, so that none can be fitted last.`,
  ];

  it('two, by their names', () => {
    const told = circle({
      'rear-lip': { tucked: 'the living floor' },
      'living-floor': { tucked: { side: 'the trim', rear: 'the sill and the rear lip' } },
    });
    expect(told).toEqual(
      inWords('"rear-lip" under "living-floor" and "living-floor" under "rear-lip"'),
    );
  });

  it('three, of which one is covered', () => {
    const told = circle({
      a: { tucked: 'b' },
      b: { covered: 'the c' },
      c: { tucked: 'the a' },
      d: { tucked: 'a' },
    });
    expect(told).toEqual(inWords('"a" under "b", "b" under "c" and "c" under "a"'));
  });

  it('several pieces by what their names begin with', () => {
    const told = circle({
      floor: { tucked: 'the wheel boxes' },
      'wheel-box-side': { tucked: 'the floor' },
      'wheel-box-top': { tucked: 'the lining' },
    });
    expect(told).toEqual(
      inWords('"floor" under "wheel-box-side" and "wheel-box-side" under "floor"'),
    );
  });

  it('a piece under itself', () => {
    expect(circle({ a: { tucked: 'the a' } })).toEqual(inWords('"a" under "a"'));
  });

  it.each([
    ['one after the other', { a: { tucked: 'b' }, b: { tucked: 'c' }, c: { tucked: 'the trim' } }],
    ['what belongs to a piece is not it', { a: { tucked: 'b' }, b: { tucked: 'the a trim' } }],
    ['nor is what it owns', { a: { tucked: 'b' }, b: { tucked: 'the a’s edge' } }],
  ])('no circle: %s', (_, under) => {
    expect(circle(under)).toEqual([]);
  });
});

describe('seams of pieces that are not there', () => {
  it('each is told where it stands', () => {
    const seams = [{ join: ['a', 'b'] }, { join: ['a/front', 'c/rear'] }];
    expect(found(sheetOf({ a: {}, b: { block: 'B' } }, { seams }))).toEqual([
      'seam-piece seams.1.join.1',
    ]);
  });
});

describe('covers that cover nothing', () => {
  const raw = (name: string | null): Feature => ({
    ...feature('RAW', line(0, 0, 100, 0)),
    name,
  });
  const check = (sheet: Partial<Piece['entry']>, features: Feature[]): string[] =>
    found(sheetOf({ a: {} }), [piece('a', sheet, oblong(-50, 0, 100, 100), features)]);

  it('by the name of an edge', () => {
    const covered = { front: 'the seat', sill: 'the trim' };
    expect(check({ covered }, [raw('front'), raw(null)])).toEqual([
      'covers-nothing pieces.a.covered.sill',
    ]);
    expect(check({ covered }, [raw('front'), raw('sill')])).toEqual([]);
    // A name is that of a raw edge; a bound one needs no cover.
    expect(check({ covered: { front: 'x' } }, [{ ...raw('front'), role: 'BOUND' }])).toEqual([
      'covers-nothing pieces.a.covered.front',
    ]);
  });

  it('is the same for what tuck edges go under', () => {
    const tuck = (name: string | null): Feature => ({ ...raw(name), role: 'TUCK' });
    expect(check({ tucked: 'the trim' }, [])).toEqual(['covers-nothing pieces.a.tucked']);
    expect(check({ tucked: 'the trim' }, [raw(null)])).toEqual(['covers-nothing pieces.a.tucked']);
    expect(check({ tucked: 'the trim' }, [tuck(null)])).toEqual([]);
    expect(check({ tucked: 'the trim', edge: 'tuck' }, [])).toEqual([]);
    expect(check({ tucked: { sill: 'the trim' } }, [tuck('front')])).toEqual([
      'covers-nothing pieces.a.tucked.sill',
    ]);
  });

  it('on a piece without raw edges', () => {
    expect(check({ covered: 'the seat' }, [])).toEqual(['covers-nothing pieces.a.covered']);
    expect(check({ covered: 'the seat' }, [raw(null)])).toEqual([]);
    expect(check({ covered: 'the seat', edge: 'raw' }, [])).toEqual([]);
  });
});

describe('what is done in the vehicle', () => {
  const drill = (name: string | null): Feature => ({
    ...feature('HOLE', polyline([{ x: 10, y: 10 }], false)),
    name,
  });
  const onSite = { bolt: { do: 'pierce it' } };
  const check = (entry: SheetInput, marks: readonly Feature[]): string[] => {
    const sheet = sheetOf({ a: { edge: 'bound', ...entry } });
    const drawn = piece('a', sheet.pieces['a']!, oblong(0, 0, 100, 100), [...marks]);
    return found(sheet, [drawn]).filter((one) => /on-site|drill-mark/.test(one));
  };

  it('has a mark of its name', () => {
    expect(check({ onSite }, [])).toEqual(['on-site-mark pieces.a.onSite.bolt']);
    expect(check({ onSite }, [{ ...drill('bolt'), role: 'CUTOUT' }])).toHaveLength(1);
    expect(check({ onSite }, [drill('bolt')])).toEqual([]);
    expect(check({ onSite }, [{ ...feature('MARK', line(0, 0, 9, 9)), name: 'bolt' }])).toEqual([]);
  });

  it('is asked about other drill marks only where some have an entry', () => {
    expect(check({}, [drill(null)])).toEqual([]);
    expect(check({ onSite }, [drill('bolt'), drill(null)])).toEqual(['drill-mark-unsaid test.dxf']);
  });
});
