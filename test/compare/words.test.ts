import { describe, expect, it } from 'vitest';
import { factWords, valueWords } from '../../src/compare/fact-words.ts';
import { wordMove } from '../../src/compare/moves-in-words.ts';
import { flatWords } from '../../src/compare/word-differences.ts';

describe('a move in words', () => {
  it.each([
    ['vehicle', { x: 12, y: 3 }, '12 mm to the right and 3 mm towards the front'],
    ['vehicle', { x: -12, y: -3 }, '12 mm to the left and 3 mm towards the back'],
    ['roll', { x: 340, y: -20 }, '340 mm along the roll and 20 mm towards Y 0'],
    ['roll', { x: -5, y: 7 }, '5 mm back towards the start of the roll and 7 mm away from Y 0'],
    ['sheet', { x: 40, y: 0 }, '40 mm to the right'],
    ['sheet', { x: 0, y: -0.25 }, '0.25 mm down'],
  ] as const)('has size and direction: %s', (frame, by, words) => {
    expect(wordMove(by, frame)).toBe(words);
  });
});

describe('facts in words', () => {
  it.each([
    ['roll carpet-loop.gap', 'the gap between parts'],
    ['order 1041.heelPads', 'which heel pads it has'],
    ['material carpet-loop.colours.sand.price', 'the price of a metre in sand'],
    ['cutter.program.units', 'the unit of length in programs'],
    ['cutter.newThing.someDepth', 'cutter, new thing, some depth'],
  ])('are no path of keys: %s', (name, words) => {
    expect(factWords(name)).toBe(words);
  });

  it('have a name for every value of a knife', () => {
    const knives = [
      {
        kind: 'tangential',
        axis: { letter: 'C', feed: 1, acceleration: 1 },
        liftAboveDeg: 1,
        oscillation: { dwell: 1 },
      },
      { kind: 'trailing', offset: 1, swivelAboveDeg: 20, swivelDepth: 1, leadIn: 20 },
    ];
    for (const knife of knives) {
      const keys = Object.keys(flatWords({ knife }, new Set(), 'cutter'));
      for (const key of keys) expect(factWords(key), key).toMatch(/^(?:the|how|what) /);
    }
  });

  it('have units where they are numbers, and quotes where they are words', () => {
    expect(valueWords('cutter.feeds.cut', '18000')).toBe('18000 mm/min');
    expect(valueWords('roll loop.dyeLot', 'L-217')).toBe('"L-217"');
    expect(valueWords('inches', 'true')).toBe('yes');
  });
});

describe('records as facts', () => {
  it('go by what they are called, wherever they stand in a list', () => {
    const colours = [
      { name: 'sand', price: 1 },
      { name: 'claret', price: 2 },
    ];
    expect(flatWords({ colours })).toEqual(
      expect.objectContaining({ 'colours.sand.price': '1', 'colours.claret.price': '2' }),
    );
    expect(flatWords({ colours: colours.toReversed() })).toEqual(flatWords({ colours }));
    expect(flatWords({ alone: ['a', 'b'] })).toEqual({ alone: 'a, b' });
  });
});
