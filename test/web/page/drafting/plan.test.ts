import { describe, expect, it } from 'vitest';
import type { PieceView } from '../../../../src/drafting/view.ts';
import { extentOfPlan, placedPieces } from '../../../../src/web/page/drafting/plan/placed.ts';

function piece(name: string, side: 'pair' | 'right'): PieceView {
  const said = { side, material: 'loop' };
  const outline = 'M100 0L500 0L500 300L100 300Z';
  return { name, said, outline, frame: [1, 0, 0, 1, 50, 0], axis: null } as never;
}

describe('the plan of the vehicle', () => {
  it('is as large as all that is drawn on it: the other halves of pairs, and what lies in no outline', () => {
    const of = (side: 'pair' | 'right') => extentOfPlan(placedPieces([piece('mat', side)]), []);
    expect(of('right')).toEqual([150, 0, 550, 300]);
    expect(of('pair')).toEqual([-550, 0, 550, 300]);
    expect(extentOfPlan(placedPieces([piece('mat', 'right')]), [[0, 900]])).toEqual([
      0, 0, 550, 900,
    ]);
  });
});
