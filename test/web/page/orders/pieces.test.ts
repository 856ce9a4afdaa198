import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Order } from '../../../../src/handing/order.ts';
import { isWanted } from '../../../../src/handing/selection.ts';
import { selectionOf, wantedPieces } from '../../../../src/web/page/orders/pieces.ts';
import { box } from '../../../../patterns/fenlark/pen.ts';
import { part } from '../../../knife/sample-parts.ts';

const pieces = ['floor', 'dash', 'mat', 'rest', 'cover', 'step'];

/** A set with groups of its pieces, and some of its pieces. */
const choices = fc.record({
  groups: fc.dictionary(
    fc.constantFrom('cab', 'feet', 'rear'),
    fc.subarray(pieces, { minLength: 1 }),
    { noNullPrototype: true },
  ),
  wanted: fc.subarray(pieces, { minLength: 1 }),
});

type Selection = Pick<Order, 'alone' | 'without'>;

/** The pieces that the order is cut: asked of the code that makes the parts. */
function cutPieces(selection: Selection, groups: Record<string, string[]>): string[] {
  return pieces.filter((piece) => isWanted(part(piece, box(0, 0, 10, 10)), selection, groups));
}

function count({ alone = [], without = [] }: Selection): number {
  return alone.length + without.length;
}

/** The least number of names with which `alone` and `without` say it: every way is tried. */
function leastNames(wanted: readonly string[], groups: Record<string, string[]>): number {
  const names = [...pieces, ...Object.keys(groups)];
  const target = wanted.join();
  let least = Infinity;
  const lists = (most: number): string[][] =>
    names.reduce<string[][]>(
      (all, name) =>
        all.concat(all.filter((one) => one.length < most).map((one) => [...one, name])),
      [[]],
    );
  for (const alone of [undefined, ...lists(3).filter((one) => one.length > 0)]) {
    for (const without of lists(3)) {
      const total = (alone?.length ?? 0) + without.length;
      if (total >= least) continue;
      const selection = { ...(alone === undefined ? {} : { alone }), without };
      if (cutPieces(selection, groups).join() === target) least = total;
    }
  }
  return least;
}

describe('pieces that are ticked', () => {
  it('are the ones that are cut, and ticked again', () => {
    fc.assert(
      fc.property(choices, ({ groups, wanted }) => {
        const selection = selectionOf(wanted, { pieces, groups });
        expect(cutPieces(selection, groups)).toEqual(wanted);
        expect(wantedPieces(selection, { pieces, groups })).toEqual(wanted);
      }),
    );
  });

  it('are said with as few names as there can be', () => {
    fc.assert(
      fc.property(choices, ({ groups, wanted }) => {
        const selection = selectionOf(wanted, { pieces, groups });
        // Six pieces need three names at most: what is wanted, or what is not.
        expect(count(selection)).toBe(leastNames(wanted, groups));
      }),
      { numRuns: 12 },
    );
  });

  it.each([
    [pieces, {}],
    [['floor', 'dash'], { alone: ['cab'] }],
    [['mat', 'rest', 'cover', 'step'], { without: ['cab'] }],
    [['floor'], { alone: ['floor'] }],
    [['floor', 'dash', 'mat', 'rest'], { alone: ['cab', 'feet'] }],
    [['floor', 'dash', 'mat'], { alone: ['cab', 'mat'] }],
  ])('%j are said as a person would', (wanted, said) => {
    const groups = { cab: ['floor', 'dash'], feet: ['mat', 'rest'] };
    expect(selectionOf(wanted, { pieces, groups })).toEqual(said);
  });

  it.each([{ alone: ['mat-left'] }, { without: ['mat-pad-right'] }])(
    'cannot show %j, which names parts of them',
    (selection) => {
      expect(wantedPieces(selection, { pieces, groups: {} })).toBeNull();
    },
  );
});
