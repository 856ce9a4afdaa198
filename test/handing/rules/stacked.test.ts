import { describe, expect, it } from 'vitest';
import { checkStacked } from '../../../src/handing/rules/stacked.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import { oblong, patternSet, piece } from '../../handing/fixtures.ts';

/** Ten pieces of different sizes, each drawn from a corner of its own. */
const sizes = [
  [1200, 900],
  [800, 500],
  [600, 420],
  [450, 300],
  [900, 250],
  [700, 610],
  [300, 200],
  [520, 330],
  [260, 640],
  [410, 150],
] as const;

function drawn(count: number, at: (i: number) => readonly [number, number]): Piece[] {
  return sizes.slice(0, count).map(([width, height], i) => {
    const [x, y] = at(i);
    return { ...piece(`p${i}`, { at: [x, y] }, oblong(0, 0, width, height)), axis: null };
  });
}

function heap(pieces: readonly Piece[]): string[] {
  return checkStacked(patternSet('RHD', pieces)).map(({ message }) => message);
}

describe('pieces that nobody placed', () => {
  it('all at the origin are one finding', () => {
    expect(heap(drawn(10, () => [0, 0]))).toEqual([expect.stringContaining('"p0", "p1"')]);
    expect(heap(drawn(10, () => [0, 0]))[0]).toContain('3 more lie on each other in the vehicle');
  });

  it('are named without those that are placed', () => {
    // The first two have their places, and eight have none.
    const [found, ...more] = heap(drawn(10, (i) => (i < 2 ? [3000 * (i + 1), 500] : [0, 0])));
    expect(more).toEqual([]);
    expect(found).toContain('"p2"');
    expect(found).not.toContain('"p0"');
    expect(found).not.toContain('"p1"');
  });

  it('are told where only two lie on each other from one corner', () => {
    expect(heap(drawn(10, (i) => (i < 8 ? [3000 * (i + 1), 500] : [0, 0])))).toEqual([
      expect.stringContaining('"p8" and "p9"'),
    ]);
  });

  it('in frames of their own are told, wherever their corners are', () => {
    // Each drawn about its own middle.
    const about = drawn(10, () => [0, 0]).map((one, i): Piece => {
      const [width, height] = sizes[i]!;
      return { ...one, outline: oblong(-width / 2, -height / 2, width / 2, height / 2) };
    });
    expect(heap(about)).toHaveLength(1);
  });

  it('and lie apart on the wrong side are one note, unless most lie on their sides', () => {
    const row = (sides: readonly ('left' | 'right')[]): string[] =>
      checkStacked(
        patternSet(
          'RHD',
          sides.map((side, i) => ({
            ...piece(`p${i}`, { side }, oblong(1500 * i, 0, 1500 * i + 400, 300)),
            axis: null,
          })),
        ),
      ).map(({ severity, rule, message }) => `${severity} ${rule} ${message.split(' are ')[0]}`);
    expect(row(['left', 'right', 'left'])).toEqual(['note unplaced "p0" and "p2"']);
    expect(row(['right', 'right'])).toEqual([]);
    // The drawing of one piece shows no order of pieces.
    expect(row(['left'])).toEqual([]);
  });

  it('are no finding where the set file puts them on each other: a mat lies on a floor', () => {
    expect(heap(drawn(10, () => [500, 500]))).toEqual([]);
  });

  it('are no finding once all but one are placed, or where they are drawn in their places', () => {
    expect(heap(drawn(10, (i) => (i < 9 ? [3000 * (i + 1), 500] : [0, 0])))).toEqual([]);
    const inPlace = drawn(10, () => [0, 0]).map((one, i): Piece => {
      const [width, height] = sizes[i]!;
      return { ...one, outline: oblong(1500 * i, 0, 1500 * i + width, height) };
    });
    expect(heap(inPlace)).toEqual([]);
  });
});
