import { describe, expect, it } from 'vitest';
import { questionWords } from '../../../../src/web/page/sets/question.ts';

describe('what is asked about a set from a drawing', () => {
  it.each([
    ['pile', 'rearward', 'Does the pile lean rearward? Nobody said it.'],
    ['side', 'pair', 'Is it a pair, one for each side? Nobody said it.'],
    ['side', 'driver', 'Does it go with the driver? Nobody said it.'],
    ['drawnSide', 'left', 'Is the left half the one that is drawn? Nobody said it.'],
    ['quantity', '2', 'Are 2 of it wanted? Nobody said it.'],
    ['material', 'felt', 'Is it cut from felt? Nobody said it.'],
    ['texts', null, 'Do texts on it ask for something? Nobody said it.'],
    ['another', 'x', 'Is another right? Nobody said it.'],
  ])('about %s shows the value %j', (key, value, words) => {
    expect(questionWords({ key, value, why: 'nobody said it' })).toBe(words);
  });
});
