import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bandIndex } from '../../../src/geometry/measuring/band-index.ts';
import type { Box } from '../../../src/geometry/paths/box.ts';
import { boxIndex } from '../../../src/geometry/measuring/box-index.ts';

const side = fc.tuple(fc.integer({ min: -50, max: 50 }), fc.integer({ min: 0, max: 40 }));
const box: fc.Arbitrary<Box> = fc.tuple(side, side).map(([[minX, width], [minY, height]]) => ({
  minX,
  minY,
  maxX: minX + width,
  maxY: minY + height,
}));

function meet(a: Box, b: Box): boolean {
  return a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;
}

describe.each([
  ['boxIndex', boxIndex],
  ['bandIndex', bandIndex],
])('%s', (_, indexOf) => {
  it('finds what looking at every box finds, rising, edges included', () => {
    fc.assert(
      fc.property(fc.array(box, { maxLength: 60 }), box, (boxes, asked) => {
        const all = [...boxes.keys()].filter((i) => meet(boxes[i]!, asked));
        expect(indexOf(boxes)(asked)).toEqual(all);
      }),
    );
  });

  it('answers for rays without end', () => {
    fc.assert(
      fc.property(fc.array(box, { maxLength: 60 }), fc.integer(), fc.integer(), (boxes, x, y) => {
        const ray = { minX: x % 60, minY: y % 60, maxX: Infinity, maxY: y % 60 };
        const all = [...boxes.keys()].filter((i) => meet(boxes[i]!, ray));
        expect(indexOf(boxes)(ray)).toEqual(all);
      }),
    );
  });
});

describe('bandIndex', () => {
  it('has bands where all boxes are as low as each other', () => {
    const flat = [0, 10, 20].map((x) => ({ minX: x, minY: 5, maxX: x + 10, maxY: 5 }));
    const near = bandIndex(flat);
    expect(near({ minX: 10, minY: 0, maxX: 12, maxY: 9 })).toEqual([0, 1]);
    expect(near({ minX: 10, minY: 6, maxX: 12, maxY: 9 })).toEqual([]);
  });
});
