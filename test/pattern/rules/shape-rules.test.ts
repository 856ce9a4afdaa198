import { describe, expect, it } from 'vitest';
import type { Entity } from '../../../src/drawing/drawing.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { circle } from '../../../src/geometry/paths/path.ts';
import {
  compose,
  reflection,
  rotation,
  transformPath,
  translation,
} from '../../../src/geometry/paths/transform.ts';
import type { Transform } from '../../../src/geometry/paths/transform.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import { checkDrawnTwice } from '../../../src/pattern/rules/copies.ts';
import { checkHands } from '../../../src/pattern/rules/hands.ts';
import { checkAxisMiddle } from '../../../src/pattern/rules/axis-middle.ts';
import { checkNotchShapes } from '../../../src/pattern/rules/notch-shapes.ts';
import { checkLonePads } from '../../../src/pattern/rules/pads.ts';
import { checkSideMarks } from '../../../src/pattern/rules/side-marks.ts';
import type { Feature } from '../../../src/pattern/feature.ts';
import { cornerless, feature, line, oblong, piece } from '../../handing/fixtures.ts';

/** Symmetrical in x = 0, with arcs: 800 wide, round in front. */
const round: Path = {
  closed: true,
  vertices: [
    { x: -400, y: 0, bulge: 0 },
    { x: 400, y: 0, bulge: 0.1 },
    { x: 300, y: 500, bulge: 0.3 },
    { x: -300, y: 500, bulge: 0.1 },
  ],
};

function withAxis(x: number, outline = round): Piece {
  return { ...piece('a', {}, outline), axis: { from: { x, y: -50 }, to: { x, y: 700 } } };
}

describe('an AXIS on an outline with arcs', () => {
  it.each([
    [0, []],
    [0.4, []],
    [5, ['the AXIS line lies 5.0 mm beside the middle']],
    [-5, ['the AXIS line lies 5.0 mm beside the middle']],
  ])('%f mm beside its middle', (x, found) => {
    const messages = checkAxisMiddle(withAxis(x)).map(({ message }) => message);
    expect(messages).toEqual(found.map((words) => expect.stringContaining(words)));
  });
});

describe('a centre piece without the AXIS that it needs', () => {
  const lone = (outline: Path): Piece => ({
    ...piece('a', { outline: 'driver' }, outline),
    axis: null,
  });

  it('is told where its outline shows the middle, whichever way it is drawn', () => {
    const [upright] = checkHands(lone(transformPath(translation({ x: 450, y: 20 }), round)));
    expect(upright!.rule).toBe('no-axis');
    // An arc of bulge 0.3 over 600 rises 0.3 x 300 = 90 over its chord at 520.
    expect(upright!.todo).toContain('symmetrical in the line from 450.0, 20.0 to 450.0, 610.0');
    const [level] = checkHands(lone(transformPath(rotation(-90), round)));
    expect(level!.todo).toContain('from 0.0, 0.0 to 590.0, 0.0');
  });

  it('is told nothing where the outline shows none', () => {
    const [found] = checkHands(lone(cornerless));
    expect(found!.todo).toBe('Draw the vehicle’s centreline on layer AXIS.');
  });
});

describe('a centre piece that is sewn, without an AXIS', () => {
  const sewn = (x: number, at: readonly [number, number] = [0, 0]): string[] => {
    const outline = transformPath(translation({ x, y: 0 }), oblong(-200, 0, 200, 300));
    const seam = feature('SEAM', line(x - 200, 300, x - 200, 0));
    return checkHands({ ...piece('a', { at: [...at] }, outline, [seam]), axis: null }).map(
      ({ rule }) => rule,
    );
  };

  it.each([
    ['drawn about the middle', 0, [0, 0], []],
    ['drawn a little beside it', 150, [0, 0], []],
    ['drawn wholly to the right of it', 200, [0, 0], ['no-axis']],
    ['drawn wholly to the left of it', -450, [0, 0], ['no-axis']],
    ['brought to the middle by its place', 450, [-450, 0], []],
  ] as const)('is told nothing or where it lies: %s', (_, x, at, rules) => {
    expect(sewn(x, at)).toEqual(rules);
  });
});

describe('a heel pad on one side of the body alone', () => {
  const pad = feature('PAD', oblong(100, 100, 200, 200));
  const of = (name: string, entry: Partial<Piece['entry']>, features = [pad]): Piece =>
    piece(name, { pad: 'rubber', ...entry }, cornerless, features);
  const told = (...pieces: Piece[]): string[] =>
    checkLonePads(pieces).map(({ message }) => message.replace(/^.*: /, ''));

  it('is told with the hand in which an order gets none', () => {
    expect(told(of('mat', { side: 'right' }))).toEqual([
      'an order for the driver’s pads gets it in RHD, and none in LHD.',
    ]);
    expect(told(of('mat', { side: 'left' }), of('lid', { side: 'right' }, []))).toEqual([
      'an order for the driver’s pads gets it in LHD, and none in RHD.',
    ]);
  });

  it('is told nothing where the other side has one, or somebody has decided', () => {
    expect(told(of('mat', { side: 'right' }), of('other', { side: 'left' }))).toEqual([]);
    expect(told(of('mat', { side: 'pair', drawnSide: 'right' }))).toEqual([]);
    expect(told(of('mat', { side: 'driver' }))).toEqual([]);
    expect(told(of('mat', { side: 'right', decided: 'one car, RHD for ever' }))).toEqual([]);
  });
});

describe('pieces that are drawn twice', () => {
  const hole = feature('HOLE', circle({ x: 100, y: 150 }, 9));
  const one = piece('sill', { side: 'left', block: 'S1' }, cornerless, [hole]);

  function another(entry: Partial<Piece['entry']>, way: Transform, features = [hole]): Piece {
    return piece(
      'strip',
      { side: 'left', block: 'S2', ...entry },
      transformPath(way, cornerless),
      features.map((own) => ({ ...own, path: transformPath(way, own.path) })),
    );
  }

  const aside = translation({ x: 2000, y: 77 });

  it.each<[string, Piece, boolean]>([
    ['elsewhere', another({}, aside), true],
    ['turned round', another({}, compose(aside, rotation(180))), true],
    ['mirrored', another({}, reflection({ x: 0, y: 0 }, 90)), false],
    ['of another material', another({ material: 'rubber' }, aside), false],
    ['for the other side', another({ side: 'right' }, aside), false],
    ['for one hand alone', another({ only: 'RHD' }, aside), false],
    ['from the same block', another({ block: 'S1' }, aside), false],
    ['and decided', another({ decided: 'two are wanted' }, aside), false],
    ['without its hole', another({}, aside, []), false],
    [
      'with a notch more',
      another({}, aside, [hole, feature('NOTCH', line(200, 0, 200, 6))]),
      false,
    ],
    [
      'with a hole 5 mm off',
      another({}, aside, [feature('HOLE', circle({ x: 105, y: 150 }, 9))]),
      false,
    ],
  ])('%s', (_, two, isTold) => {
    const found = checkDrawnTwice([one, two]);
    expect(found.map(({ rule }) => rule)).toEqual(isTold ? ['drawn-twice'] : []);
  });

  it('are named, with the number that would do', () => {
    const [found] = checkDrawnTwice([one, another({ quantity: 2 }, aside)]);
    expect(found!.where.piece).toBe('strip');
    expect(found!.message).toContain('drawn exactly as "sill" is');
    expect(found!.todo).toContain('"quantity: 3"');
  });
});

describe('a mark for a side on a piece', () => {
  const text = (words: string): Entity => ({
    kind: 'text',
    layer: 'NOTE',
    line: 9,
    at: { x: 3, y: 4 },
    text: words,
    height: 10,
    deg: 0,
  });

  function told(
    words: string,
    entry: Partial<Piece['entry']>,
    outline = cornerless,
    more: Piece[] = [],
  ) {
    const marked = { ...piece('floor', entry, outline), notes: [text(words), text('CARPET')] };
    const all = [marked, ...more];
    const pieces = Object.fromEntries(all.map(({ name, entry: own }) => [name, own]));
    return checkSideMarks({ pieces, drawn: 'RHD' }, marked, all);
  }

  it.each<[string, string, Partial<Piece['entry']>, boolean]>([
    ['RH on a centre piece', 'RH', { side: 'centre' }, true],
    ['R on a right piece that is alone', 'R', { side: 'right' }, true],
    ['R/H on a left piece', 'R/H', { side: 'left' }, true],
    ['LEFT on the piece of the driver, who sits on the right', 'LEFT', { side: 'driver' }, true],
    ['RIGHT on the piece of the driver', 'RIGHT', { side: 'driver' }, false],
    ['RH on a pair', 'RH', { side: 'pair', drawnSide: 'right' }, false],
    ['RH, decided', 'RH', { side: 'right', decided: 'the battery is there' }, false],
    ['RH, for one hand alone', 'RH', { side: 'right', only: 'RHD' }, false],
    ['RH, the side still open', 'RH', { side: 'centre', open: { side: 'a guess' } }, false],
    ['a text with more than the side', 'clip on the right', { side: 'centre' }, false],
  ])('%s', (_, words, entry, isTold) => {
    const found = told(words, entry);
    expect(found.map(({ rule, severity }) => [rule, severity])).toEqual(
      isTold ? [['side-mark', 'warning']] : [],
    );
  });

  it('asks for a pair, at the text', () => {
    const [found] = told('RH', { side: 'right' });
    expect(found!.message).toBe(
      'a text on the piece says "RH", that is the right one, and the set has no such piece for the left.',
    );
    expect(found!.todo).toContain('"side: pair" with "drawnSide: right"');
    expect(found!.where).toMatchObject({ line: 9, at: { x: 3, y: 4 } });
  });

  it('is nothing on a piece that is symmetrical, or has its twin', () => {
    expect(told('RH', { side: 'centre' }, round)).toEqual([]);
    const image = transformPath(reflection({ x: 700, y: 0 }, 90), cornerless);
    expect(
      told('RH', { side: 'right' }, cornerless, [piece('mat', { side: 'left' }, image)]),
    ).toEqual([]);
    const copy = transformPath(translation({ x: 2000, y: 0 }), cornerless);
    expect(
      told('RH', { side: 'right' }, cornerless, [piece('mat', { side: 'left' }, copy)]),
    ).toHaveLength(1);
  });
});

describe('notches that are no plain lines', () => {
  const notch = (drawnAs?: Feature['drawnAs']): Feature => ({
    ...feature('NOTCH', line(100, 0, 100, 6)),
    ...(drawnAs !== undefined && { drawnAs }),
  });
  const on = (name: string, ...features: Feature[]): Piece =>
    piece(name, {}, oblong(0, 0, 600, 400), features);

  it('are told in one note, with how many of each shape and where', () => {
    expect(checkNotchShapes([on('a', notch())])).toEqual([]);
    const [found, ...more] = checkNotchShapes([
      on('a', notch(), notch('v'), notch('v')),
      on('b', notch('tick')),
    ]);
    expect(more).toEqual([]);
    expect(found!.severity).toBe('note');
    expect(found!.message).toContain(
      '3 notches of 2 pieces (a, b) are no plain line or point: 2 drawn as a V and 1 drawn as a line across the outline.',
    );
    expect(checkNotchShapes([on('a', notch('t'))])[0]!.where).toMatchObject({
      piece: 'a',
      at: { x: 100, y: 0 },
    });
  });
});
