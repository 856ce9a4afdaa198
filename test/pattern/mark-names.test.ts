import { describe, expect, it } from 'vitest';
import type { Entity } from '../../src/drawing/drawing.ts';
import { pathEntity } from '../../src/drawing/entity-of.ts';
import { polyline } from '../../src/geometry/paths/path.ts';
import { redrawnPiece } from '../../src/handing/redrawing/redraw.ts';
import { markNames } from '../../src/pattern/mark-names.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { pieceOf } from '../../src/pattern/piece.ts';
import { setSchema } from '../../src/pattern/set-file.ts';
import { feature, line, oblong } from '../handing/fixtures.ts';

function text(layer: string, words: string, x: number, y: number): Entity {
  return { kind: 'text', layer, line: 7, at: { x, y }, text: words, height: 10, deg: 0 };
}

const drill = (x: number, y: number) => feature('HOLE', polyline([{ x, y }], false));
const [left, right] = [drill(0, 0), drill(300, 0)];
const drain = feature('MARK', line(100, 100, 150, 100));
const edge = feature('SEAM', line(0, 5, 300, 5));
const all = [left, right, drain, edge];

function named(...texts: readonly Entity[]): (string | null)[] {
  return markNames(all, texts, new Map(), ['screw', 'drain']).features.map(({ name }) => name);
}

describe('markNames', () => {
  it('names the mark beside a text, on its layer, on NOTE, or where the layer says nothing', () => {
    expect(named(text('HOLE', 'Screw', 10, 0))).toEqual(['screw', null, null, null]);
    expect(named(text('NOTE', 'drain', 120, 110))).toEqual([null, null, 'drain', null]);
    expect(named(text('0', 'screw', 290, 10))).toEqual([null, 'screw', null, null]);
  });

  it('gives several marks one name, each by a text of its own', () => {
    const texts = [text('HOLE', 'screw', 10, 0), text('HOLE', 'screw', 290, 0)];
    expect(named(...texts)).toEqual(['screw', 'screw', null, null]);
  });

  it.each([
    ['says what the set file does not speak of', text('HOLE', 'spare', 5, 0)],
    ['stands more than 60 mm off', text('HOLE', 'screw', 0, 61)],
    ['stands on the layer of something else', text('MARK', 'screw', 0, 0)],
    ['stands on the layer of an edge', text('SEAM', 'screw', 0, 0)],
  ])('names nothing where the text %s', (_, one) => {
    expect(named(one)).toEqual([null, null, null, null]);
  });

  it('names nothing where two marks are as near', () => {
    const near = [drill(0, 0), drill(40, 0)];
    const found = markNames(near, [text('HOLE', 'screw', 20, 0)], new Map(), ['screw']);
    expect(found.features).toEqual(near);
    expect(found.texts.size).toBe(0);
  });
});

describe('a piece with named marks', () => {
  const entry = setSchema.parse({
    title: 'test',
    drawn: 'RHD',
    pieces: {
      rest: {
        side: 'driver',
        material: 'carpet',
        edge: 'bound',
        at: [0, 0],
        onSite: { screw: { do: 'pierce it' } },
      },
    },
  }).pieces['rest']!;
  const entities = (texts: readonly Entity[]): Entity[] => [
    pathEntity('OUTLINE', oblong(100, 0, 500, 300)),
    { kind: 'point', layer: 'HOLE', line: 0, at: { x: 120, y: 20 } },
    { kind: 'point', layer: 'HOLE', line: 0, at: { x: 170, y: 20 } },
    ...texts,
  ];
  const read = (drawn: readonly Entity[]) =>
    pieceOf('rest', entry, drawn, new Map(), 'a.dxf').piece!;
  const marksOf = ({ features }: Piece): unknown[] =>
    features.map(({ name, path }) => [name, path.vertices[0]!.x]);

  it('keeps them when it is drawn anew for the other hand, and back', () => {
    const first = read(entities([text('NOTE', 'screw', 125, 25), text('NOTE', 'loose', 300, 100)]));
    expect(marksOf(first)).toEqual([
      ['screw', 120],
      [null, 170],
    ]);
    // What names a mark is no note any more.
    expect(first.notes).toHaveLength(1);
    const other = read(redrawnPiece(first, 'RHD', 'LHD'));
    expect(marksOf(other)).toEqual([
      ['screw', -120],
      [null, -170],
    ]);
    expect(other.notes).toHaveLength(1);
    expect(marksOf(read(redrawnPiece(other, 'LHD', 'RHD')))).toEqual(marksOf(first));
  });
});

describe('onSite', () => {
  const readsAs = (entry: unknown): string[] =>
    setSchema
      .safeParse({
        title: 'test',
        drawn: 'RHD',
        pieces: { mat: { side: 'centre', material: 'carpet', onSite: entry } },
      })
      .error?.issues.map(({ path }) => path.slice(3).join('.')) ?? [];

  it('says what is done at marks by their names, and how large', () => {
    expect(
      readsAs({ 'belt-bolt': { do: 'pierce it', size: 12.5 }, drain: { do: 'cut it' } }),
    ).toEqual([]);
  });

  it.each([
    ['nothing to do', { bolt: { size: 3 } }, 'bolt.do'],
    ['an empty text', { bolt: { do: '' } }, 'bolt.do'],
    ['no size at all', { bolt: { do: 'pierce', size: 0 } }, 'bolt.size'],
    ['a size that is no number', { bolt: { do: 'pierce', size: '12 mm' } }, 'bolt.size'],
    ['an unknown key', { bolt: { do: 'pierce', depth: 3 } }, 'bolt'],
    ['a name that no text can have', { 'Belt Bolt': { do: 'pierce' } }, 'Belt Bolt'],
    ['a text instead of entries', 'pierce', ''],
  ])('refuses %s', (_, entry, place) => {
    expect(readsAs(entry)).toEqual([place]);
  });
});
