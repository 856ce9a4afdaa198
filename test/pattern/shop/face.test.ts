import { expect, it } from 'vitest';
import { faceOf, hasPile } from '../../../src/pattern/shop/face.ts';

it.each([
  ['carpet', 'one-way', 'the pile'],
  ['carpet', 'two-way', 'the pile'],
  ['carpet', 'any', 'the side that will be seen'],
  ['rubber', 'any', 'the side that will be seen'],
  ['underlay', 'any', 'the side that goes against the carpet'],
  ['board', 'one-way', 'the side that goes against the carpet'],
] as const)('of %s that lies %s the face is %s', (kind, turns, words) => {
  expect(faceOf({ kind, turns })).toBe(words);
  expect(hasPile({ kind, turns })).toBe(words === 'the pile');
});
