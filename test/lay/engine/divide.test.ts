import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dividedShape } from '../../../src/lay/engine/divide.ts';
import { simplified } from '../../../src/lay/engine/simplify.ts';
import { soundContours } from '../../../src/lay/engine/sound.ts';
import { turnedBy } from './judge.ts';
import { oddContours } from './odd-outlines.ts';
import { contours } from './outlines.ts';
import { commonArea, judged, ringArea } from './polygons.ts';

const slack = 5e-6;

describe('a divided shape', () => {
  it('is made up by its pieces, and keeps its holes but for the slack', () => {
    fc.assert(
      fc.property(fc.oneof(contours, oddContours), ({ outline, holes }) => {
        const sound = soundContours('item 0', { outline, holes });
        const given = { ...sound, outline: simplified(sound.outline, 0, slack) };
        const { pieces, holes: left } = dividedShape(given, 3, slack);
        expect(left).toHaveLength(given.holes.length);
        const sum = (rings: readonly (readonly number[])[]): number =>
          rings.reduce((all, ring) => all + ringArea(ring), 0);
        // No hole is more than some 3000 round.
        const unknown = 3000 * slack * (1 + holes.length) + 1e-6 * 600 * 6000;
        expect(Math.abs(sum(pieces) - sum([outline, ...holes]))).toBeLessThan(unknown);
      }),
      { numRuns: 500 },
    );
  });

  it('leaves a hole free that shares two sides with the outline', () => {
    const outline = [0, 0, 100, 0, 130, 80, 40, 120, -20, 70];
    const hole = [0, 0, -10, 35, 20, 60, 65, 40, 50, 0];
    for (const deg of [0, 37.5, 90, 200]) {
      const turned = (ring: readonly number[]): number[] => turnedBy(ring, deg);
      const shape = { name: 'item 0', outline: turned(outline), holes: [turned(hole)] };
      const { pieces } = dividedShape(shape, 40, slack);
      const taken = pieces.reduce(
        (sum, one) => sum + commonArea(judged([one]), judged([turned(hole)])),
        0,
      );
      expect(taken).toBeLessThan(0.01);
    }
  });

  it('is none if its outline crosses itself in a corner', () => {
    const outline = [-100, 0, 50, 50, 100, 60, 100, 40, 50, 50, -100, 100];
    expect(() => dividedShape({ name: 'item 2', outline, holes: [] }, 3, slack)).toThrow(
      /item 2: its outline crosses itself/,
    );
  });
});
