import { describe, expect, it } from 'vitest';
import { headingDeg, headingOf } from '../../src/geometry/paths/angle.ts';
import { pileDegOf, wordPile } from '../../src/pattern/pile.ts';

describe('directions of the pile', () => {
  it.each([
    ['right', { x: 1, y: 0 }],
    ['forward', { x: 0, y: 1 }],
    ['left', { x: -1, y: 0 }],
    ['rearward', { x: 0, y: -1 }],
  ] as const)('%s in the vehicle, whose x runs to the right and y forward', (word, { x, y }) => {
    const heading = headingOf(pileDegOf(word));
    expect(headingDeg(heading)).toBeCloseTo(headingDeg({ x, y }), 9);
    expect(wordPile(pileDegOf(word))).toBe(word);
  });

  it('degrees stay degrees, within one turn', () => {
    expect(pileDegOf(-90)).toBe(270);
    expect(wordPile(100.25)).toBe('at 100.3 degrees');
  });
});
