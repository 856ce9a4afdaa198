import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Box } from '../../src/geometry/box.ts';
import { boxIndex } from '../../src/geometry/box-index.ts';

const side = fc.tuple(fc.integer({ min: -50, max: 50 }), fc.integer({ min: 0, max: 20 }));
const box: fc.Arbitrary<Box> = fc.tuple(side, side).map(([[minX, width], [minY, height]]) => ({
  minX,
  minY,
  maxX: minX + width,
  maxY: minY + height,
}));

function meet(a: Box, b: Box): boolean {
  return a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;
}

describe('boxIndex', () => {
  it('finds what looking at every box finds, edges included', () => {
    fc.assert(
      fc.property(fc.array(box, { maxLength: 60 }), box, (boxes, asked) => {
        const all = [...boxes.keys()].filter((i) => meet(boxes[i]!, asked));
        expect(boxIndex(boxes)(asked)).toEqual(all);
      }),
    );
  });
});
