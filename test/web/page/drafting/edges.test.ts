import { describe, expect, it } from 'vitest';
import type { SeamView } from '../../../../src/drafting/seam-view.ts';
import { seenFrom, verdictOf } from '../../../../src/web/page/drafting/edges/seam-words.ts';
import {
  carriedOver,
  placeOnRound,
} from '../../../../src/web/page/drafting/edges/shown-stretches.ts';

/** Stretches of an outline of 100 mm that end where they say, each beginning where the one before it ends. */
function ending(...ends: readonly number[]): { from: number; to: number }[] {
  return ends.map((to, i) => ({ from: ends.at(i - 1)!, to }));
}

describe('stretches that are chosen', () => {
  it('are found again when a stretch before them is divided, or one with its neighbour', () => {
    const before = ending(20, 50, 80);
    // From 50 to 80, where 30 divides another.
    expect(carriedOver(before, [2], ending(20, 30, 50, 80), 100)).toEqual([3]);
    // Both parts of the one that was divided.
    expect(carriedOver(before, [2], ending(20, 50, 60, 80), 100)).toEqual([2, 3]);
    // The one that it became part of.
    expect(carriedOver(before, [2], ending(20, 80), 100)).toEqual([1]);
  });

  it('are found again across the start of the outline, and where all of it is one', () => {
    expect(carriedOver(ending(20, 50, 80), [0], ending(10, 50, 80), 100)).toEqual([0]);
    expect(carriedOver([{ from: 0, to: 0 }], [0], ending(40, 90), 100)).toEqual([0, 1]);
  });

  it('are divided from either end', () => {
    const stretch = { from: 80, to: 20 };
    expect(placeOnRound(stretch, 30, 100)).toBe(10);
    expect(placeOnRound(stretch, -30, 100)).toBe(90);
  });
});

describe('a seam seen from its other piece', () => {
  const seam: SeamView = {
    join: ['floor/toe', 'dash'],
    ease: null,
    findings: [],
    fits: [
      {
        lengths: [100, 104],
        difference: 4,
        ease: 3,
        isLengthSound: false,
        begin: [
          [0, 0],
          [5, 5],
        ],
        met: [],
        unmet: [
          {
            edge: 0,
            at: [
              [1, 0],
              [6, 5],
            ],
          },
        ],
      },
    ],
  };

  it('has all of that piece first', () => {
    expect(seenFrom(seam, 'floor')).toBe(seam);
    const { join, fits } = seenFrom(seam, 'dash');
    expect(join).toEqual(['dash', 'floor/toe']);
    expect(fits[0]).toMatchObject({
      lengths: [104, 100],
      difference: -4,
      begin: [
        [5, 5],
        [0, 0],
      ],
      unmet: [
        {
          edge: 1,
          at: [
            [6, 5],
            [1, 0],
          ],
        },
      ],
    });
  });

  it('fits only where lengths and notches do', () => {
    expect(verdictOf(seam)).toBe('Look');
    const [fit] = seam.fits;
    expect(verdictOf({ ...seam, fits: [{ ...fit!, isLengthSound: true }] })).toBe('Look');
    expect(verdictOf({ ...seam, fits: [{ ...fit!, isLengthSound: true, unmet: [] }] })).toBe(
      'Fits',
    );
    expect(verdictOf({ ...seam, fits: [] })).toBe('Look');
  });
});
