import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SetOfParts } from '../../src/lay/sets.ts';
import { areaOfSets, setsOf, thatMayFit, wantedWithout } from '../../src/lay/sets.ts';
import { oblong, partOf } from './fixtures.ts';

function setOf(area: number, i: number): SetOfParts {
  return { name: `set ${i}`, order: 'A', parts: [], area };
}

/** Tries sets on a roll that holds `room` of the `area` that it has, and gives those that stay, and how many were tried. */
function triedOn(sets: readonly SetOfParts[], area: number, room: number) {
  let wanted = sets;
  for (let times = 1; ; times++) {
    const chosen = thatMayFit(wanted, area);
    if (areaOfSets(chosen) <= room) return { stay: chosen.map(({ name }) => name), times };
    // One at a time is dropped: nothing is known of how dense the lay is.
    wanted = wantedWithout(chosen.at(-1)!, wanted, sets);
  }
}

/** What stays if the sets are tried one after the other, each beside those that have found room. */
function oneByOne(sets: readonly SetOfParts[], room: number): string[] {
  const stay: SetOfParts[] = [];
  for (const set of sets) if (areaOfSets([...stay, set]) <= room) stay.push(set);
  return stay.map(({ name }) => name);
}

describe('the sets of some parts', () => {
  it('are the largest first, then the only ones of their order, then those of one order together', () => {
    const sets = [
      ['A', 1, 300],
      ['A', 2, 300],
      // Another in the last digits, as a mirrored one is.
      ['B', 1, 300.00000000001],
      ['B', 2, 300.00000000001],
      ['C', 1, 300],
      ['D', 1, 500],
      ['E', 1, 100],
    ] as const;
    const parts = sets.map(([order, set, width]) =>
      partOf(`p.${set}.${order}`, oblong(width, 100), [], { order, set }),
    );
    expect(setsOf(parts.toReversed()).map(({ order, parts: [one] }) => order + one!.set)).toEqual([
      'D1',
      'C1',
      'A1',
      'A2',
      'B1',
      'B2',
      'E1',
    ]);
  });
});

describe('sets that are tried together on a roll with less room than area', () => {
  it('are in the end those that find room one after the other', () => {
    const areas = fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 12 });
    const shares = fc.double({ min: 0.3, max: 1, noNaN: true });
    fc.assert(
      fc.property(areas, fc.integer({ min: 1, max: 150 }), shares, (some, area, share) => {
        const sets = some.toSorted((a, b) => b - a).map(setOf);
        const { stay } = triedOn(sets, area, share * area);
        expect(stay).toEqual(oneByOne(sets, share * area));
      }),
    );
  });

  it('are the small ones where no large one has room, after few tries', () => {
    // Ten of two sizes: the roll has the area for one large and one small set, and no room even for a large one alone.
    const sets = [...Array<number>(10).fill(9), ...Array<number>(10).fill(3)].map(setOf);
    const { stay, times } = triedOn(sets, 12.4, 8.5);
    expect(stay).toEqual(['set 10', 'set 11']);
    // Large and small; a large one alone; four, three and two small ones.
    expect(times).toBe(5);
  });
});
