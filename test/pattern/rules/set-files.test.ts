import { describe, expect, it } from 'vitest';
import type { Piece } from '../../../src/pattern/piece.ts';
import type { Feature } from '../../../src/pattern/feature.ts';
import { checkSetContent } from '../../../src/pattern/rules/rules.ts';
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

/** `rule path-in-the-file`. */
function found(sheet: SetContent, pieces: readonly Piece[] = []): string[] {
  const yaml = {
    file: 'set.yaml',
    value: sheet,
    placeOf: (path: readonly PropertyKey[]) => ({ file: path.map(String).join('.') }),
    stands: () => true,
  };
  return checkSetContent(yaml, pieces).map(({ rule, where }) => `${rule} ${where.file!}`);
}

describe('pieces that are not told apart', () => {
  it('by hyphens alone', () => {
    expect(found(sheetOf({ 'cab-floor': {}, cabfloor: {} }))).toEqual([
      'like-names pieces.cabfloor',
    ]);
    expect(found(sheetOf({ 'cab-floor': {}, 'cab-floors': {} }))).toEqual([]);
  });

  const twins: [string, SheetInput, SheetInput, boolean][] = [
    ['one block, one side', { side: 'left' }, { side: 'left' }, true],
    ['one block, in other letters', { block: 'MAT' }, { block: 'mat' }, true],
    ['one block, left and right', { side: 'left' }, { side: 'right' }, false],
    ['one block, driver and passenger', { side: 'driver' }, { side: 'passenger' }, false],
    ['one block, a pair and its left', { side: 'pair', drawnSide: 'left' }, { side: 'left' }, true],
    ['one block, one for each hand', { only: 'LHD' }, { only: 'RHD' }, false],
    ['one block, both for one hand', { only: 'LHD' }, { only: 'LHD' }, true],
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

  it('by one file that has no blocks', () => {
    const sheet = sheetOf({ a: { file: 'mat.dxf' }, b: { file: 'mat.dxf' } });
    expect(found(sheet)).toEqual(['same-block pieces.b']);
  });

  it('blocks left out are called after their pieces', () => {
    expect(found(sheetOf({ a: {}, b: { block: 'A' } }))).toEqual(['same-block pieces.b']);
    expect(found(sheetOf({ a: {}, b: {} }))).toEqual([]);
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
    found(sheetOf({ a: {} }), [piece('a', sheet, oblong(0, 0, 100, 100), features)]);

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
