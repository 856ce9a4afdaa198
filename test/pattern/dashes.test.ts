import { describe, expect, it } from 'vitest';
import type { PathEntity } from '../../src/drawing/drawing.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { polyline } from '../../src/geometry/paths/path.ts';
import { chainLines, lineThrough, withoutDashes } from '../../src/pattern/dashes.ts';
import { line, oblong } from '../handing/fixtures.ts';

/** An upright line at x in dashes of 20, with `gap` mm between. */
function dashed(x: number, gap: number, count = 5): Path[] {
  return Array.from({ length: count }, (_, i) => {
    const y = i * (20 + gap);
    return line(x, y, x, y + 20);
  });
}

const entity = (path: Path, i: number): PathEntity => ({
  kind: 'path',
  layer: 'AXIS',
  line: 10 + i,
  path,
});

const bare = (path: Path | null): unknown => path?.vertices.map(({ x, y }) => [x, y]);

describe('lineThrough', () => {
  it('is the whole of a line in dashes, the way that its longest dash runs', () => {
    expect(bare(lineThrough(dashed(7, 10)))).toEqual([
      [7, 0],
      [7, 140],
    ]);
    const down = [line(7, 20, 7, 0), line(7, 60, 7, 30), line(7, 70, 7, 90)];
    expect(bare(lineThrough(down))).toEqual([
      [7, 90],
      [7, 0],
    ]);
  });

  it('is a line of three points on it, however it is drawn', () => {
    const bent = polyline(
      [
        { x: 0, y: 0 },
        { x: 50, y: 0.05 },
        { x: 100, y: 0 },
      ],
      false,
    );
    expect(bare(lineThrough([bent]))).toEqual([
      [0, 0],
      [100, 0],
    ]);
  });

  it('is the very line where there is one', () => {
    const one = line(0, 0, 10, 10);
    expect(lineThrough([one])).toBe(one);
  });

  it.each([
    ['beside each other', [line(0, 0, 0, 50), line(0.3, 60, 0.3, 110)]],
    ['across each other', [line(0, 0, 0, 50), line(-5, 60, 5, 60)]],
    ['with one closed', [line(0, 0, 0, 50), oblong(0, 60, 10, 70)]],
    [
      'with an arc',
      [
        {
          closed: false,
          vertices: [
            { x: 0, y: 0, bulge: 0.5 },
            { x: 0, y: 9, bulge: 0 },
          ],
        },
      ],
    ],
    ['of none', []],
  ])('is none for lines %s', (_, paths) => {
    expect(lineThrough(paths)).toBeNull();
  });
});

describe('lines in dashes', () => {
  it('are one where the gaps are narrow, and what is further off is another', () => {
    const drawn = [...dashed(0, 30), ...dashed(50, 10)].map(entity);
    const chains = chainLines(drawn);
    expect(chains.map(({ dashes }) => dashes.length)).toEqual([5, 5]);
    expect(chains.map(({ whole }) => bare(whole.path))).toEqual([
      [
        [0, 0],
        [0, 220],
      ],
      [
        [50, 0],
        [50, 140],
      ],
    ]);
    // Another piece may lie between.
    expect(chainLines(dashed(0, 31).map(entity)).map(({ dashes }) => dashes.length)).toEqual([
      1, 1, 1, 1, 1,
    ]);
  });

  it('are joined from so many dashes on, and nothing else changes', () => {
    const others = [entity(line(9, 9, 99, 9), 50), entity(oblong(0, 300, 9, 309), 51)];
    const two = dashed(0, 10, 2).map(entity);
    expect(withoutDashes([...two, ...others], 3)).toEqual([...two, ...others]);
    const joined = withoutDashes([...two, ...others], 2);
    expect(joined.length).toBe(3);
    expect(joined).toEqual(expect.arrayContaining(others));
  });
});
