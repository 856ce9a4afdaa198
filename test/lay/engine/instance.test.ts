import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Instance, Kind, ItemPlacement } from '../../../src/lay/engine/instance.ts';
import { prepared } from '../../../src/lay/engine/instance.ts';
import type { Nest } from '../../../src/lay/engine/nest.ts';
import { nest } from './nested.ts';
import { faults } from './judge.ts';
import { polygon, rounds } from './polygons.ts';
import { tries } from '../../support/thorough.ts';

function oblong(width: number, height: number, x = 0, y = 0): number[] {
  return [x, y, x + width, y, x + width, y + height, x, y + height];
}

/** Some kinds, 800 across at most. */
const someKinds: fc.Arbitrary<Kind[]> = fc.array(
  fc.record({
    outline: polygon,
    rotations: fc.constantFrom([0], [0, 180], [0, 90, 180, 270]),
    demand: fc.integer({ min: 1, max: 3 }),
  }),
  { minLength: 1, maxLength: 3 },
);

const effort = fc.integer({ min: 1, max: 40 });

function laid(instance: Instance, count: number, seed = 1): { last: Nest; all: Nest[] } {
  const all: Nest[] = [];
  const budget = { used: rounds(count), found: (each: Nest) => all.push(each) };
  return { last: nest(prepared(instance), seed, budget), all };
}

function expectGood(instance: Instance, count: number): Nest {
  const { last, all } = laid(instance, count);
  for (const each of [last, ...all]) expect(faults(instance, each)).toEqual([]);
  return last;
}

describe('fixed items', () => {
  it('lie where they lie, and nothing overlaps them', () => {
    const places = fc.array(
      fc.tuple(polygon, fc.integer({ min: 0, max: 1500 }), fc.integer({ min: 200, max: 900 })),
      { minLength: 1, maxLength: 3 },
    );
    fc.assert(
      fc.property(someKinds, places, effort, (kinds, standing, count) => {
        const fixed = standing.map(([outline, x, y]) => ({
          outline: outline.map((value, i) => value + (i % 2 === 0 ? x : y)),
        }));
        const instance = { width: 1100, kinds, fixed };
        const ready = prepared(instance);
        expectGood(instance, count);
        expect(ready.problem.fixed.every(({ x, y }) => x === 0 && y === 0)).toBe(true);
      }),
      { numRuns: tries(12, 25) },
    );
  });

  it('an item lies in the hole of a fixed one, and else behind it', () => {
    const fixed = [
      { outline: oblong(500, 500), holes: [[100, 100, 100, 300, 300, 300, 300, 100]] },
    ];
    const small = { outline: oblong(190, 190), rotations: [0], demand: 1 };
    expect(expectGood({ width: 500, kinds: [small], fixed }, 60).length).toBeCloseTo(290, 3);
    const solid = [{ outline: oblong(500, 500) }];
    const last = expectGood({ width: 500, kinds: [small], fixed: solid }, 30);
    expect(last.length).toBeCloseTo(690, 3);
  });

  it('count neither as items nor as length', () => {
    const fixed = [{ outline: oblong(100, 500, 900) }];
    const kinds = [{ outline: oblong(200, 500), rotations: [0], demand: 2 }];
    const last = expectGood({ width: 500, kinds, fixed }, 30);
    expect(last.placements).toHaveLength(2);
    expect(last.length).toBeCloseTo(400, 3);
  });
});

describe('pinned items', () => {
  it('stay where they lie, and nothing overlaps them', () => {
    fc.assert(
      fc.property(someKinds, effort, fc.nat(1000), (kinds, count, pick) => {
        const { placements } = laid({ width: 1000, kinds }, 5).last;
        const isPinned = (i: number): boolean => (pick >> i) % 2 === 0;
        const pinned = placements
          .filter((_, i) => isPinned(i))
          .map(({ kind, ...place }) => ({ outline: kinds[kind]!.outline, places: [place] }));
        const others = kinds.map((kind, k) => ({
          ...kind,
          demand: placements.filter((one, i) => one.kind === k && !isPinned(i)).length,
        }));
        expectGood({ width: 1000, kinds: others, pinned }, count);
      }),
      { numRuns: tries(12, 30) },
    );
  });

  it('are one shape for the search with those like them, so that nothing is worked out for each anew', () => {
    const kinds = [{ outline: oblong(200, 300), rotations: [0, 90], demand: 2 }];
    const alone = prepared({ width: 1000, kinds });
    const places = Array.from({ length: 40 }, (_, i) => ({ rotation: 90, x: 300 * i, y: 600 }));
    const pinned = [{ outline: oblong(200, 300), places }];
    const { problem } = prepared({ width: 1000, kinds, pinned });
    expect(problem.fixed).toHaveLength(40);
    expect(problem.turns).toHaveLength(alone.problem.turns.length);
  });

  it('have no more corners than need be', () => {
    const round = Array.from({ length: 400 }, (_, i) => (i * Math.PI) / 200).flatMap((angle) => [
      500 * Math.cos(angle),
      500 * Math.sin(angle),
    ]);
    const kinds = [{ outline: oblong(200, 300), rotations: [0], demand: 1 }];
    const pinned = [{ outline: round, places: [{ rotation: 0, x: 500, y: 500 }] }];
    const { contours } = prepared({ width: 1000, kinds, pinned });
    // A regular polygon round a circle needs 58 corners to be larger by less than a thousandth.
    expect(contours[1]![0]!.length / 2).toBeLessThan(80);
  });

  it('end the search as soon as the others reach no further than what is taken', () => {
    const kinds = [{ outline: oblong(200, 300), rotations: [0], demand: 2 }];
    const pinned = [{ outline: oblong(100, 1000), places: [{ rotation: 0, x: 900, y: 0 }] }];
    const instance = { width: 1000, kinds, pinned, taken: 1000 };
    const last = nest(prepared(instance), 1, { used: () => 0 });
    expect(faults(instance, last)).toEqual([]);
    expect(last.length).toBe(1000);
  });
});

describe('a start', () => {
  it('is never made longer, whatever the budget', () => {
    fc.assert(
      fc.property(someKinds, effort, effort, fc.nat(99), (kinds, first, second, seed) => {
        const instance = { width: 1000, kinds };
        const { last: before } = laid(instance, first);
        const start = before.placements;
        const again = { ...instance, start };
        const { last, all } = laid(again, second, seed);
        for (const each of [last, ...all]) {
          expect(faults(again, each)).toEqual([]);
          expect(each.length).toBeLessThanOrEqual(before.length + 1e-9);
        }
      }),
      { numRuns: tries(12, 30) },
    );
  });

  it('without a budget is kept as it is, and what it does not name is added', () => {
    fc.assert(
      fc.property(someKinds, fc.nat(1000), (kinds, pick) => {
        const instance = { width: 1000, kinds };
        const { placements } = laid(instance, 5).last;
        const start = placements.filter((_, i) => (pick >> i) % 2 === 0);
        const { placements: after } = nest(prepared({ ...instance, start }), 1, { used: () => 1 });
        expect(faults(instance, { length: Infinity, placements: after })).toEqual([]);
        const key = (one: ItemPlacement): string => JSON.stringify(one);
        const there = after.map(key);
        for (const one of start) expect(there).toContain(key(one));
      }),
      { numRuns: tries(12, 30) },
    );
  });
});

describe('kept boxes', () => {
  it('lie in the strip while the outlines may hang over its sides', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), effort, (over, count) => {
        const outline = oblong(100 + 2 * over, 100 + 2 * over, -over, -over);
        const kept = [{ minX: 0, minY: 0, maxX: 100, maxY: 100 }];
        const kinds = [{ outline, kept, rotations: [0], demand: 3 }];
        // As wide as what is kept: all in a row, the grown outlines touching.
        const { placements, length } = expectGood({ width: 100, kinds }, count);
        expect(placements.map(({ y }) => y)).toEqual([0, 0, 0]);
        expect(length).toBeCloseTo(300 + 4 * over, 3);
      }),
      { numRuns: tries(10, 20) },
    );
  });

  it('belong to the turns', () => {
    const outline = oblong(300, 100, -10, -10);
    const kept = [
      { minX: 0, minY: 0, maxX: 280, maxY: 80 },
      { minX: -80, minY: 0, maxX: 0, maxY: 280 },
    ];
    const kinds = [{ outline, kept, rotations: [0, 90], demand: 1 }];
    expect(expectGood({ width: 280, kinds }, 20).length).toBeCloseTo(80, 6);
    expect(expectGood({ width: 279, kinds }, 20).length).toBeCloseTo(280, 6);
  });
});

/** A polygon of so many corners around a circle. */
function around(corners: number, radius: number): number[] {
  return Array.from({ length: corners }, (_, i) => (2 * Math.PI * i) / corners).flatMap((angle) => [
    radius * Math.cos(angle),
    radius * Math.sin(angle),
  ]);
}

describe('items as wide as the strip', () => {
  it.each([0, 30, 37.5, 90, 123.4])('are laid at a turn of %d degrees', (deg) => {
    const turn = (deg * Math.PI) / 180;
    const width = 300 * Math.abs(Math.sin(turn)) + 200 * Math.abs(Math.cos(turn));
    const kinds = [{ outline: oblong(300, 200), rotations: [deg], demand: 2 }];
    expectGood({ width, kinds }, 20);
  });

  it('are laid where an outline with fewer corners would be wider', () => {
    const kinds = [{ outline: around(400, 250), rotations: [0], demand: 2 }];
    const { length } = expectGood({ width: 500, kinds }, 20);
    expect(length).toBeGreaterThan(999.9);
    expect(length).toBeLessThan(1002);
  });

  it('are laid in each turn in which they fit, and in no other', () => {
    const kinds = [{ outline: oblong(300, 200), rotations: [0, 45, 90, 180], demand: 1 }];
    expect(prepared({ width: 200, kinds }).rotations).toEqual([0, 180]);
    const disc = { outline: around(400, 250), rotations: [0, 90], demand: 1 };
    expect(prepared({ width: 500, kinds: [disc] }).rotations).toEqual([0, 90]);
  });

  it('may be wider by the slack, and not by more', () => {
    const kinds = [{ outline: oblong(300, 200), rotations: [0], demand: 1 }];
    const strip = { kinds, slack: 1e-4 };
    expectGood({ ...strip, width: 200 - 0.9e-4 }, 10);
    expect(() => prepared({ ...strip, width: 200 - 1.1e-4 })).toThrow(/item 0 is wider/);
  });
});

describe('corners nearer to each other than the slack', () => {
  it.each([1e-13, 1e-9, 1e-6])('are one (%d apart)', (apart) => {
    const outlines = [
      oblong(300, 200),
      around(12, 150),
      [0, 0, 300, 0, 300, 200, 200, 200, 200, 90, 0, 90],
    ];
    for (const outline of outlines) {
      const near = outline.flatMap((value, i) =>
        i % 2 === 1 ? [] : [value, outline[i + 1]!, value + apart, outline[i + 1]! - apart / 3],
      );
      const kind = { outline: near, rotations: [0, 37.5, 180], demand: 2 };
      const { contours } = prepared({ width: 500, kinds: [kind] });
      for (const [ring] of contours) expect(ring).toHaveLength(outline.length);
      expectGood({ width: 500, kinds: [kind] }, 20);
    }
  });
});

describe('a spike without width', () => {
  it('lies in the strip', () => {
    const outline = [0, 0, 100, 0, 100, 100, 50, 100, 50, 130, 50, 100, 0, 100];
    expectGood({ width: 200, kinds: [{ outline, rotations: [0], demand: 2 }] }, 20);
  });
});

describe('shapes without room for circles', () => {
  it('are made ready: a hair a million away from its origin', () => {
    // Eight rows across it would lie nearer to each other than doubles can tell.
    const outline = [1e6, 1e6, 1e6 + 100, 1e6, 1e6 + 100, 1e6 + 5e-10];
    const { problem } = prepared({ width: 500, kinds: [{ outline, rotations: [0], demand: 1 }] });
    const [shape] = problem.shapes;
    expect(shape!.pieces()).toHaveLength(1);
    expect(shape!.circles().length % 3).toBe(0);
  });
});

describe('what makes no sense is refused', () => {
  const triangle = { outline: [0, 0, 9, 0, 9, 9], rotations: [0], demand: 1 };
  it.each([
    ['a width of 0', { width: 0, kinds: [triangle] }],
    ['a width that is none', { width: NaN, kinds: [triangle] }],
    [
      'a number that is none',
      { width: 10, kinds: [{ ...triangle, outline: [0, 0, NaN, 0, 9, 9] }] },
    ],
    ['no area', { width: 10, kinds: [{ ...triangle, outline: [0, 0, 9, 0, 4, 0] }] }],
    ['a clockwise outline', { width: 10, kinds: [{ ...triangle, outline: [0, 0, 9, 9, 9, 0] }] }],
    ['no turn', { width: 10, kinds: [{ ...triangle, rotations: [] }] }],
    ['half an item', { width: 10, kinds: [{ ...triangle, demand: 0.5 }] }],
    ['less than none', { width: 10, kinds: [{ ...triangle, demand: -1 }] }],
    ['an item too wide in every turn', { width: 8, kinds: [triangle] }],
  ])('%s', (_, wrong) => {
    expect(() => prepared(wrong)).toThrow(RangeError);
  });

  const crossed = [0, 0, 9, 0, 9, 9, 3, -3, 0, 9];
  it.each([
    [
      'the second item',
      { kinds: [triangle, { ...triangle, outline: crossed }] },
      /^item 1: .* at \(/,
    ],
    [
      'a fixed shape',
      { kinds: [triangle], fixed: [{ outline: crossed }] },
      /^fixed shape 0: .* at \(/,
    ],
    [
      'a pinned shape',
      { kinds: [triangle], pinned: [{ outline: crossed, places: [] }] },
      /^pinned shape 0: .* at \(/,
    ],
    ['a turn', { kinds: [{ ...triangle, rotations: [NaN] }] }, /^item 0 has a turn that is none/],
  ])('with words that name %s', (_, wrong, words) => {
    expect(() => prepared({ width: 10, ...wrong })).toThrow(words);
  });
});
