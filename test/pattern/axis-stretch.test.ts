import { describe, expect, it } from 'vitest';
import { axisOnPiece } from '../../src/pattern/axis-stretch.ts';
import type { DrawnLine } from '../../src/pattern/feature.ts';
import { oblong, piece, slotted } from '../handing/fixtures.ts';

const upright = (x: number, y0: number, y1: number): DrawnLine => ({
  from: { x, y: y0 },
  to: { x, y: y1 },
});

function on(outline: ReturnType<typeof oblong>, axis: DrawnLine | null): unknown {
  const found = axisOnPiece({ ...piece('a', {}, outline), axis });
  return found === null ? null : [found.from.y, found.to.y];
}

describe('the part of an AXIS that lies on its piece', () => {
  const floor = oblong(-500, 0, 500, 300);

  it.each<[string, DrawnLine | null, unknown]>([
    ['longer than the piece', upright(0, -900, 800), [0, 300]],
    ['drawn downwards', upright(0, 800, -900), [300, 0]],
    ['that begins inside', upright(0, 100, 800), [100, 300]],
    ['inside', upright(0, 100, 200), [100, 200]],
    ['from edge to edge', upright(0, 0, 300), [0, 300]],
    ['beside the piece', upright(600, -50, 50), [-50, 50]],
    ['that is not there', null, null],
  ])('%s', (_, axis, expected) => {
    expect(on(floor, axis)).toEqual(expected);
  });

  it('goes over a slot', () => {
    // The slot is open above 50, and the line runs through it to the top.
    expect(on(slotted, upright(150, -80, 400))).toEqual([0, 50]);
    const across = { from: { x: -9, y: 100 }, to: { x: 400, y: 100 } };
    const found = axisOnPiece({ ...piece('a', {}, slotted), axis: across })!;
    expect([found.from.x, found.to.x]).toEqual([0, 300]);
  });
});
