import * as fc from 'fast-check';
import polygonClipping from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { circle } from '../../../src/geometry/paths/path.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { breaksOf, fitText, lineSpacing } from '../../../src/papers/svg/label.ts';
import { contourArea, pointsOn } from '../../support/contours.ts';
import { rectangle, somePartsArbitrary } from '../../knife/sample-parts.ts';

/** Advances in DejaVu Sans Bold 2.37, in 2048ths of its size [S, the font's hmtx table]. */
const advances: Readonly<Record<string, number>> = {
  a: 1382,
  b: 1466,
  c: 1214,
  d: 1466,
  e: 1389,
  f: 891,
  g: 1466,
  h: 1458,
  i: 702,
  j: 702,
  k: 1362,
  l: 702,
  m: 2134,
  n: 1458,
  o: 1407,
  p: 1466,
  q: 1466,
  r: 1010,
  s: 1219,
  t: 979,
  u: 1458,
  v: 1335,
  w: 1892,
  x: 1321,
  y: 1335,
  z: 1192,
  '-': 850,
  '.': 778,
  A: 1585,
  W: 2259,
};
const digit = 1425;

function widthOf(line: string): number {
  return [...line].reduce((sum, c) => sum + (advances[c] ?? digit), 0) / 2048;
}

const below = fc.constantFrom({ rows: 0, width: 0 }, { rows: 0.8, width: 2.4 });
const names = fc.constantFrom(
  ['mmm-', 'www'],
  ['bdogpq-', 'hub-', 'dog'],
  ['wheel-', 'box-', 'top-', 'left'],
  ['illi-', 'jill'],
  ['mat'],
);

describe('fitText', () => {
  it('stays inside the outline and clear of the holes wherever it says that it fits', () => {
    let fitting = 0;
    fc.assert(
      fc.property(
        somePartsArbitrary,
        names,
        below,
        fc.integer({ min: 5, max: 40 }),
        (parts, words, free, smallest) => {
          for (const { cut, inner } of parts) {
            const settings = breaksOf(words).map((lines) => lines.concat('12.WA3'));
            const holes = inner.map(({ path }) => path);
            const text = fitText({ settings, below: free }, cut, holes, {
              smallest,
              largest: 2 * smallest,
            });
            if (text === null) continue;
            fitting += 1;
            expect(text.size).toBeGreaterThanOrEqual(smallest);
            expect(text.size).toBeLessThanOrEqual(2 * smallest);
            expect(settings).toContain(text.lines);
            const wide = text.size * Math.max(free.width, ...text.lines.map(widthOf));
            const high = text.size * lineSpacing * (text.lines.length + free.rows);
            const block = rectangle(wide, high, text.centre.x - wide / 2, text.centre.y - high / 2);
            expect(areaOutside(block, cut, holes)).toBeLessThan(1e-6 * wide * high);
          }
        },
      ),
    );
    expect(fitting).toBeGreaterThan(20);
  });

  it('takes the first setting that can have the largest type', () => {
    const settings = [['wheel-box-top'], ['wheel-', 'box-', 'top']];
    const fit = (path: Path): unknown =>
      fitText({ settings, below: { rows: 0, width: 0 } }, path, [], { smallest: 10, largest: 20 });
    expect(fit(rectangle(1000, 100))).toMatchObject({ lines: settings[0], size: 20 });
    expect(fit(rectangle(150, 1000))).toMatchObject({ lines: settings[1], size: 20 });
    // Either would fit in small type; the broken one is larger.
    const narrow = fit(rectangle(110, 110));
    expect(narrow).toMatchObject({ lines: settings[1] });
    expect(fit(rectangle(30, 30))).toBeNull();
  });

  it('moves away from a hole in the middle', () => {
    const block = { settings: [['floor']], below: { rows: 0, width: 0 } };
    const fitted = fitText(block, rectangle(400, 400), [circle({ x: 200, y: 200 }, 120)], {
      smallest: 20,
      largest: 40,
    });
    expect(Math.abs(fitted!.centre.y - 200)).toBeGreaterThan(100);
  });
});

describe('breaksOf', () => {
  it('joins the words in up to three lines, each way once, the fewest lines first', () => {
    const words = fc.array(fc.constantFrom('a-', 'bb-', 'c'), { minLength: 1, maxLength: 7 });
    fc.assert(
      fc.property(words, (some) => {
        const n = some.length;
        const all = breaksOf(some.map((word, i) => `${i}${word}`));
        expect(all).toHaveLength(1 + (n - 1) + ((n - 1) * (n - 2)) / 2);
        expect(new Set(all.map((lines) => lines.join('|'))).size).toBe(all.length);
        for (const [i, lines] of all.entries()) {
          expect(lines.join('')).toBe(some.map((word, k) => `${k}${word}`).join(''));
          expect(lines.length).toBeGreaterThanOrEqual(all[i - 1]?.length ?? 1);
          expect(lines.length).toBeLessThanOrEqual(3);
        }
      }),
    );
  });
});

/** mm2 of a block that are not on the part, as another library cuts polygons. */
function areaOutside(block: Path, outline: Path, holes: readonly Path[]): number {
  const ring = ({ vertices }: Path): [number, number][] => pointsOn(vertices);
  const part = polygonClipping.difference([ring(outline)], ...holes.map((hole) => [[ring(hole)]]));
  const outside = polygonClipping.difference([ring(block)], part);
  return outside
    .flat()
    .map((points) => Math.abs(contourArea(points.slice(1).map(([x, y]) => ({ x, y })))))
    .reduce((sum, area) => sum + area, 0);
}
