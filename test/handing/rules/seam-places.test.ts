import { describe, expect, it } from 'vitest';
import { polyline } from '../../../src/geometry/paths/path.ts';
import { deriveParts } from '../../../src/handing/derive.ts';
import { feature, line, materials, oblong, order, patternSet, piece } from '../fixtures.ts';

describe('a seam of two pieces that lie beside each other', () => {
  // A mat of 500 lies `gap` behind the floor; both are 1400 wide. Its front edge is sewn to the floor's rear.
  const told = (edge: 'front' | 'rear', gap: number, at: readonly [number, number] = [0, 0]) => {
    const floor = piece('floor', {}, oblong(-700, 0, 700, 700), [
      feature('SEAM', line(-700, 0, 700, 0)),
    ]);
    const y = edge === 'front' ? -gap : -gap - 500;
    const mat = piece('mat', { at: [...at] }, oblong(-700, -gap - 500, 700, -gap), [
      feature('SEAM', line(-700, y, 700, y)),
    ]);
    const set = patternSet('RHD', [floor, mat], { seams: [{ join: ['floor', 'mat'] }] });
    return deriveParts(set, order('RHD'), materials)
      .findings.filter(({ rule }) => rule === 'seam-place')
      .map(({ message }) => message);
  };

  it('is asked about where it has the far edge of one of them', () => {
    expect(told('rear', 100)).toEqual([expect.stringContaining('600 mm away from it')]);
    expect(told('rear', 0)).toEqual([expect.stringContaining('500 mm away from it')]);
  });

  it('is not where the edges face each other, or the pieces lie apart', () => {
    expect(told('front', 100)).toEqual([]);
    expect(told('front', 0)).toEqual([]);
    expect(told('rear', 400)).toEqual([]);
    // Side by side on a sheet: the floor's rear edge lies along nothing.
    expect(told('rear', 100, [1500, 700])).toEqual([]);
    // Drawn from one corner, on each other.
    expect(told('rear', 0, [0, 500])).toEqual([]);
  });
});

it('where a notch should be is said in the drawing of the other piece', () => {
  const seam = feature('SEAM', line(0, 300, 400, 300));
  const notch = feature('NOTCH', polyline([{ x: 100, y: 300 }], false));
  const mat = piece('mat', { side: 'left' }, oblong(0, 0, 400, 300), [seam, notch]);
  // The right half is drawn, 1050 further to the right and 20 further forward than it belongs.
  const cover = piece(
    'cover',
    { side: 'pair', drawnSide: 'right', at: [-1050, -20] },
    oblong(1050, 20, 1450, 320),
    [feature('SEAM', line(1050, 20, 1450, 20))],
  );
  const set = patternSet('RHD', [mat, cover], { seams: [{ join: ['mat', 'cover'] }] });
  const { findings } = deriveParts(set, order('RHD'), materials);
  const told = findings.filter(({ rule }) => rule === 'seam-notch');
  // By hand: both edges run counter-clockwise, the mat's from 400 to 0, so its notch is 300 along. It
  // meets the cover 100 along. The left cover is the mirror image: its foot runs from -400 to 0, so the
  // place is at -300, and 300 right of the inner end of the half that is drawn.
  expect(told.map(({ message }) => message)).toEqual([
    expect.stringContaining(
      'meets none of cover-left within 3 mm of 1350.0, 20.0 in the drawing of cover.',
    ),
  ]);
});
