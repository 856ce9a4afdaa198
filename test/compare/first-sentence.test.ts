import { describe, expect, it } from 'vitest';
import type { Comparable } from '../../src/compare/comparable.ts';
import type { Difference, DifferenceKind, Fact } from '../../src/compare/difference.ts';
import { difference } from '../../src/compare/difference.ts';
import { firstSentence } from '../../src/compare/first-sentence.ts';
import { byMatter, matterOf } from '../../src/compare/ranks.ts';

function one(kind: DifferenceKind, label: string | null = 'mat.1.A1'): Difference {
  return difference(kind, { sheet: 'loop', label }, 'is otherwise.');
}

function fact(name: string, was?: string, is?: string): Difference {
  const values: Fact = {
    name,
    ...(was === undefined ? {} : { was }),
    ...(is === undefined ? {} : { is }),
  };
  return difference('words', { sheet: null, label: null }, `${name} differs.`, { fact: values });
}

function runOf(lengths: Record<string, number>, orders: readonly string[] = ['1']): Comparable {
  const lays = Object.fromEntries(
    Object.entries(lengths).map(([name, length]) => [name, { length, density: 0.8, bites: 2 }]),
  );
  return { kind: 'run', items: [], words: {}, texts: [], lays, orders };
}

const same = [runOf({ loop: 8000 }), runOf({ loop: 8000 })] as const;

/** From the gravest to the least, as the product promises it. */
const graver: readonly Difference[] = [
  fact('cutter.face', 'up', 'down'),
  one('mirrored'),
  one('removed'),
  one('outline'),
  one('moved'),
  one('order', null),
  fact('title', 'Monday', 'Tuesday'),
];

describe('what matters', () => {
  it('comes in order: machine, hand, parts, shapes, places, order of cutting, words', () => {
    const groups = byMatter(graver.toReversed());
    expect(groups.map(({ differences }) => differences)).toEqual(graver.map((each) => [each]));
  });

  it.each([
    ['units', 'mm', 'inch'],
    ['cutter.program.units', 'mm', 'inch'],
    ['height', '-8 mm', '-9 mm'],
    ['feed', '9000 mm/min', '900 mm/min'],
    ['cutter.heights.cut', '-0.5', '-5'],
    ['cutter.feeds.plunge', '3000', '300'],
    ['cutter.knife.kind', 'tangential', 'trailing'],
    ['roll loop.thickness', '8', '9'],
    ['pileDeg', '0', '180'],
    ['oscillation on', '1', '0'],
    ['face', 'pile up', 'pile down'],
    ['travel height', '18', '8'],
    ['plunge feed', '3000', '6000'],
    ['modes', 'G17 G61', 'G17'],
  ])('counts %s as a thing of the machine or the cloth', (name, was, is) => {
    expect(matterOf(fact(name, was, is))).toBe('machine');
  });

  it.each([
    ['title', 'a', 'b'],
    ['cutter.price', '1 EUR', '2 EUR'],
    ['roll loop.dyeLot', '1', '2'],
    ['orders.0.customer', 'a', 'b'],
    // The whole roll is new: its parts tell of it.
    ['roll loop.thickness', undefined, '9'],
  ])('counts %s as words (%s, %s)', (name, was, is) => {
    expect(matterOf(fact(name, was, is))).toBe('words');
  });
});

describe('the first sentence', () => {
  it('says that two are the same', () => {
    expect(firstSentence([], [...same])).toBe('They are the same.');
    expect(firstSentence([], null)).toBe('They are the same.');
  });

  it('is about the gravest of all that differs', () => {
    const words = [
      /^Do not mix them: the side of the cloth that lies up was "up" and is "down"/,
      /^Do not mix them: 1 part is mirrored \(mat\.1\.A1\)/,
      /^1 part is gone; 1 part has another shape/,
      /^1 part has another shape \(mat\.1\.A1\)\.$/,
      /^The shapes are the same, and 1 part lies elsewhere\.$/,
      /cut in another order\.$/,
      /only words differ\.$/,
    ];
    for (const [i, pattern] of words.entries()) {
      expect(firstSentence(graver.slice(i).toReversed(), [...same])).toMatch(pattern);
    }
  });

  it('names the gravest fact of the machine, and counts the others', () => {
    const facts = [
      fact('cutter.feeds.cut', '9000', '900'),
      fact('cutter.blade.width', '6', '4'),
      fact('cutter.program.units', 'mm', 'inch'),
    ];
    expect(firstSentence(facts, [...same])).toBe(
      'Do not mix them: the unit of length in programs was "mm" and is "inch", and 2 more things of machine or cloth.',
    );
  });

  it('says first that two runs have no order in common', () => {
    const inputs = [runOf({ loop: 8000 }, ['1', '2']), runOf({ loop: 8000 }, ['3'])] as const;
    const told = firstSentence([fact('cutter.face', 'up', 'down')], [...inputs]);
    expect(told).toMatch(/the runs have no order in common \(1 and 2 before, 3 now\); the side of/);
  });

  it('says how much more or less of a roll is taken, where that differs most', () => {
    const inputs = [
      runOf({ loop: 8000, board: 3000 }),
      runOf({ loop: 7410, board: 3100 }),
    ] as const;
    const parts = [one('added', 'a'), one('added', 'b'), one('removed', 'c')];
    expect(firstSentence(parts, [...inputs])).toBe(
      '1 part is gone and 2 parts are new; loop takes 0.59 m less.',
    );
    expect(firstSentence([one('moved')], [...inputs])).toMatch(/loop takes 0\.59 m less\.$/);
    expect(firstSentence([fact('title', 'a', 'b')], [...inputs])).not.toContain('takes');
  });
});
