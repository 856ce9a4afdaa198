import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  narrowest,
  openEnds,
  outlineThrough,
  widthsOf,
  wrongWidths,
} from '../../../../src/web/page/roll/measured.ts';
import { defectWords } from '../../../../src/web/page/roll/defect-words.ts';
import { lineBetween, ringAround } from '../../../../src/web/page/roll-picture/places/defect.ts';

const someWidths = fc.uniqueArray(
  fc.record({
    along: fc.integer({ min: 0, max: 20_000 }),
    width: fc.integer({ min: 900, max: 2100 }),
  }),
  { minLength: 2, maxLength: 8, selector: ({ along }) => along },
);

describe('widths as measured', () => {
  // By hand: 2000 at the start, 1980 at 10 m, 1990 at 25 m of a roll of 30 m with 20 mm of selvedge.
  it('are the line of the far edge, less the selvedge, on to both ends', () => {
    const widths = [
      { along: 10_000, width: 1980 },
      { along: 0, width: 2000 },
      { along: 25_000, width: 1990 },
    ];
    expect(outlineThrough(widths, 30_000, 20)).toEqual([
      [0, 0],
      [30_000, 0],
      [30_000, 1970],
      [25_000, 1970],
      [10_000, 1960],
      [0, 1980],
    ]);
    expect(narrowest(widths)).toBe(1980);
  });

  it('can be read from the line again', () => {
    fc.assert(
      fc.property(someWidths, (widths) => {
        const found = widthsOf(outlineThrough(widths, 25_000, 15), 15);
        for (const one of widths) expect(found).toContainEqual(one);
        expect(found.at(-1)!.along).toBe(25_000);
      }),
    );
  });

  it('are not read from a remnant of another shape', () => {
    expect(
      widthsOf(
        [
          [0, 0],
          [6700, 0],
          [7200, 600],
          [7200, 2030],
          [0, 2030],
        ],
        20,
      ),
    ).toEqual([]);
    expect(widthsOf(undefined, 20)).toEqual([]);
  });

  it('say nothing of an end at which nobody measured', () => {
    const widths = [
      { along: 1000, width: 1900 },
      { along: 2000, width: 1500 },
    ];
    expect(openEnds(widths, 4780)).toMatch(/start and at the end/);
    expect(openEnds([{ along: 100, width: 1900 }, ...widths], 2200)).toBe('');
    expect(openEnds(widths.slice(0, 1), 1000)).not.toBe('');
  });

  it('are two at the least, each of a place of its own on the roll', () => {
    expect(wrongWidths([{ along: 0, width: 2000 }], null)).toMatch(/two places/);
    const same = [
      { along: 50, width: 2000 },
      { along: 50, width: 1990 },
    ];
    expect(wrongWidths(same, null)).toMatch(/same place/);
    const far = [
      { along: 50, width: 2000 },
      { along: 900, width: 1990 },
    ];
    expect(wrongWidths(far, 800)).toMatch(/past the end/);
    expect(wrongWidths(far, 1000)).toBe('');
  });
});

it('a defect is told by its shape', () => {
  expect(defectWords(ringAround({ x: 500, y: 300 }, 50))).toMatch(/^ring of 10\d mm about 500 mm/);
  expect(defectWords(lineBetween({ x: 0, y: 0 }, { x: 300, y: 400 }, 20))).toMatch(/aslant$/);
  expect(
    defectWords([
      [1, 2],
      [5, 2],
      [5, 9],
      [1, 9],
    ]),
  ).toBe('1 mm from the start, 2 mm from the edge: 4 × 7 mm');
});
