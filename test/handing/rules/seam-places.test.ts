import { expect, it } from 'vitest';
import { polyline } from '../../../src/geometry/paths/path.ts';
import { deriveParts } from '../../../src/handing/derive.ts';
import { feature, line, materials, oblong, order, patternSet, piece } from '../fixtures.ts';

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
