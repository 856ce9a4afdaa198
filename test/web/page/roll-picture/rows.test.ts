import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { View } from '../../../../src/web/page/picture/view.ts';
import { toDrawn, toScreen } from '../../../../src/web/page/picture/view.ts';
import {
  isReadable,
  oneBand,
  rowAlong,
  rowAt,
  rowsFor,
  rowsSeen,
  rowView,
  sheetExtent,
  sheetView,
  stretchesSeen,
} from '../../../../src/web/page/roll-picture/places/rows.ts';

const size = { width: 1000, height: 600 };
const anyReach = fc.double({ min: 300, max: 400_000, noNaN: true });
const anyWidth = fc.integer({ min: 500, max: 5000 });
const anyView = fc.record({
  scale: fc.double({ min: 0.01, max: 2, noNaN: true }),
  left: fc.double({ min: -1000, max: 5000, noNaN: true }),
  top: fc.double({ min: -9000, max: 5000, noNaN: true }),
});

describe('a roll in rows', () => {
  it('is drawn larger than as one band, or is one band', () => {
    fc.assert(
      fc.property(anyReach, anyWidth, (reach, width) => {
        const rows = rowsFor(reach, width, size, 16, 30);
        if (rows.count === 1) return;
        const band = Math.min((size.width - 32) / reach, (size.height - 32 - 30) / width);
        const [minX, minY, maxX, maxY] = sheetExtent(rows, reach);
        const sheet = Math.min(
          (size.width - 32) / (maxX - minX),
          (size.height - 32 - 30) / (maxY - minY),
        );
        const across = (size.width - 32) / (maxX - minX);
        expect(Math.max(sheet, isReadable(rows, sheet) ? 0 : across)).toBeGreaterThan(band);
      }),
    );
  });

  it('has all of the roll in one row or another, and each place in one', () => {
    fc.assert(
      fc.property(
        anyReach,
        anyWidth,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (reach, width, share) => {
          const rows = rowsFor(reach, width, size, 16, 30);
          if (rows.count > 1) expect(rows.count * rows.each).toBeCloseTo(reach, 6);
          const x = share * reach;
          const row = rowAlong(rows, x);
          expect(row).toBeGreaterThanOrEqual(0);
          expect(row).toBeLessThan(rows.count);
          if (rows.count > 1 && row < rows.count - 1) {
            expect(x - row * rows.each).toBeGreaterThanOrEqual(-1e-6);
            expect(x - row * rows.each).toBeLessThanOrEqual(rows.each + 1e-6);
          }
        },
      ),
    );
  });

  it('finds the place on the roll that it shows, in whichever row', () => {
    fc.assert(
      fc.property(
        anyReach,
        anyWidth,
        anyView,
        fc.double({ min: 0, max: 0.999, noNaN: true }),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        (reach, width, sheet: View, share, acrossShare) => {
          const rows = rowsFor(reach, width, size, 16, 30);
          const spot = { x: share * reach, y: acrossShare * width };
          const row = rowAlong(rows, spot.x);
          const at = toScreen(rowView(rows, sheet, row), spot);
          expect(rowAt(rows, sheet, at)).toBe(row);
          const back = toDrawn(rowView(rows, sheet, rowAt(rows, sheet, at)), at);
          expect(back.x).toBeCloseTo(spot.x, 3);
          expect(back.y).toBeCloseTo(spot.y, 3);
          expect(sheetView(rows, rowView(rows, sheet, row), row).left).toBeCloseTo(sheet.left, 6);
        },
      ),
    );
  });

  // By hand: 240 m of a roll 2 m wide in a window of 1000 by 600 pixels. Rows of 150 pixels are 13 m long there.
  it('keeps names readable on a lay of 240 m, more rows than the window has room for', () => {
    const rows = rowsFor(240_000, 2000, size, 16, 30);
    expect(rows.count).toBe(19);
    const scale = (size.width - 32) / rows.each;
    expect(isReadable(rows, scale)).toBe(true);
    const sheet = { scale, left: 0, top: 2000 };
    expect(rowsSeen(rows, sheet, size).length).toBeLessThan(6);
  });

  it('is one band where that is the largest', () => {
    expect(rowsFor(1700, 2000, size, 16, 30)).toEqual(oneBand(2000));
  });

  it('tells what of the roll is in the window, row by row', () => {
    const rows = { count: 3, each: 1000, pitch: 600, width: 500 };
    // A window as high as two rows, moved half a row to the right.
    const sheet = { scale: 1, left: 500, top: 500 };
    const seen = stretchesSeen(rows, sheet, { width: 400, height: 1000 }, 2800);
    expect(seen).toEqual([
      [500, 900],
      [1500, 1900],
    ]);
    expect(stretchesSeen(oneBand(500), sheet, { width: 400, height: 1000 }, 700)).toEqual([
      [500, 700],
    ]);
  });
});
