import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { soundContours } from '../../../src/lay/engine/sound.ts';
import { oddContours } from './odd-outlines.ts';
import { contours } from './outlines.ts';
import { ringArea } from './polygons.ts';

const square = [0, 0, 100, 0, 100, 100, 0, 100];
const inner = [40, 40, 40, 60, 60, 60, 60, 40];

describe('sound contours', () => {
  it('have the area that they were given', () => {
    fc.assert(
      fc.property(fc.oneof(contours, oddContours), ({ outline, holes }) => {
        const sound = soundContours('item 0', { outline, holes });
        expect(ringArea(sound.outline)).toBeCloseTo(ringArea(outline), 3);
        const sum = (rings: typeof holes): number =>
          rings.reduce((all, ring) => all + ringArea(ring), 0);
        expect(sum(sound.holes)).toBeCloseTo(sum(holes), 3);
      }),
      { numRuns: 300 },
    );
  });

  it('have no corner twice in a row, and end before they come back to the first', () => {
    const twice = [0, 0, 0, 0, 100, 0, 100, 100, 100, 100, 0, 100, 0, 0];
    expect(soundContours('item 0', { outline: twice }).outline).toHaveLength(8);
  });

  it('have holes that run clockwise, and none without area', () => {
    const given = {
      outline: square,
      holes: [inner.toReversed().map((_, i) => inner[i]!), [5, 5, 9, 9, 5, 5]],
    };
    const { holes } = soundContours('item 0', given);
    expect(holes).toHaveLength(1);
    const counterClockwise = [40, 40, 60, 40, 60, 60, 40, 60];
    const turned = soundContours('item 0', { outline: square, holes: [counterClockwise] });
    expect(ringArea(turned.holes[0]!)).toBe(-400);
  });

  it('may touch: themselves in a slot or a keyhole, holes each other and the outline', () => {
    const slot = [0, 0, 50, 0, 50, 40, 50, 0, 100, 0, 100, 100, 0, 100];
    const keyhole = [...square, 0, 0, ...inner, 40, 40];
    const touching = [
      [0, 0, 40, 60, 60, 40],
      [40, 60, 60, 60, 60, 40],
    ];
    expect(() => soundContours('item 0', { outline: slot })).not.toThrow();
    expect(() => soundContours('item 0', { outline: keyhole })).not.toThrow();
    expect(() => soundContours('item 0', { outline: square, holes: touching })).not.toThrow();
  });
});

describe('contours that mean nothing are refused', () => {
  it.each([
    [
      'a number that is none',
      [0, 0, 100, 0, NaN, 100],
      [],
      /item 3 has a number that is none, at corner 3/,
    ],
    ['half a corner', [0, 0, 100, 0, 100, 100, 0], [], /item 3 has a corner with one number only/],
    ['a line', [0, 0, 100, 0, 50, 0], [], /item 3 has no area/],
    ['one place', [5, 5, 5, 5, 5, 5], [], /item 3 has no area/],
    ['clockwise', square.toReversed().map((_, i) => square[i ^ 1]!), [], /item 3 .*runs clockwise/],
    [
      'an outline that crosses itself',
      [0, 0, 100, 0, 100, 100, 20, -20, 0, 100],
      [],
      /item 3: its outline crosses itself at \((33\.3333|16\.6667), 0\)/,
    ],
    [
      'a hole that crosses itself',
      square,
      [[40, 40, 60, 60, 60, 40, 40, 70]],
      /item 3: a hole in it crosses itself at \(\d/,
    ],
    [
      'a hole across the outline',
      square,
      [[90, 40, 90, 60, 110, 60]],
      /item 3: two contours of it cross at \(100, \d/,
    ],
    [
      'a hole outside',
      square,
      [[190, 40, 190, 60, 210, 60]],
      /item 3: a hole lies outside its outline at \(190, 40\)/,
    ],
    [
      'a hole in a hole',
      square,
      [inner, [45, 45, 45, 55, 55, 55]],
      /item 3: a hole lies in another at \(45, 45\)/,
    ],
  ])('%s', (_, outline, holes, words) => {
    const given = { outline, holes };
    expect(() => soundContours('item 3', given)).toThrow(RangeError);
    expect(() => soundContours('item 3', given)).toThrow(words);
  });
});
