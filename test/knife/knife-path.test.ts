import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pathLength } from '../../src/geometry/paths/path.ts';
import {
  laidInARow,
  layOf,
  longBay,
  part,
  point,
  rectangle,
  smallTable,
  knifeOver,
  somePartsArbitrary,
} from './sample-parts.ts';

const tile = rectangle(100, 100);

/** The path of one long part laid there, on the small table. */
function laidAt(x: number, y: number, biteLength: number): () => unknown {
  const parts = [part('mat', rectangle(1500, 300))];
  const lay = layOf(parts, [{ label: 'mat', x, y, rotation: 0 }], { biteLength });
  return () => knifeOver(lay, parts, smallTable);
}

describe('a knife path', () => {
  it('is in the frame of each bite, with a feed between', () => {
    const parts = ['a', 'b'].map((label) => part(label, tile));
    const lay = layOf(
      parts,
      [
        { label: 'a', x: 20, y: 30, rotation: 0 },
        { label: 'b', x: 6420, y: 30, rotation: 0 },
      ],
      { biteLength: 3200 },
    );
    const { moves, bites } = knifeOver(lay, parts, longBay);
    // The first place after each note, less what the blade needs not cut of a side: its rear edge stands upright.
    const firsts = moves.flatMap((move, i) => (moves[i - 1]?.kind === 'note' ? [move] : []));
    expect(firsts).toMatchObject([
      { kind: 'travel', to: point(20, 30) },
      { kind: 'travel', to: point(0, 30) },
    ]);
    expect(moves.filter(({ kind }) => kind === 'feed')).toEqual([{ kind: 'feed', length: 6420 }]);
    expect(bites).toBe(2);
  });

  it('refuses a part off the bed, and names it', () => {
    expect(laidAt(20, 30, 1600)).not.toThrow();
    expect(laidAt(200, 30, 1600)).not.toThrow();
    expect(laidAt(20, 1900, 1600)).toThrow(/part mat: .*1900\.0 to 2200\.0 mm across the roll/);
    // Laid for a longer bed.
    expect(laidAt(1700, 30, 3200)).toThrow(/part mat: .*1700\.0 to 3200\.0 mm along the roll/);
  });

  it('cuts contours, notches and what closes them: lengths add up', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        for (const leaning of [longBay, smallTable]) {
          const blade = { ...leaning.blade, leanFrontDeg: 0, leanRearDeg: 0 };
          const cutter = { ...leaning, blade };
          const plain = parts.map((one) => ({ ...one, inner: [] }));
          const { cutLength } = knifeOver(laidInARow(plain, cutter), plain, cutter);
          const lengths = plain.map(
            ({ cut, notches }) => pathLength(cut) + cutter.closingOverlap + 6 * notches.length,
          );
          expect(cutLength).toBeCloseTo(
            lengths.reduce((a, b) => a + b),
            4,
          );
        }
      }),
      { numRuns: 30 },
    );
  });
});
