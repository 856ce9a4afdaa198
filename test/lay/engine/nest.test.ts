import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Instance } from '../../../src/lay/engine/instance.ts';
import { prepared } from '../../../src/lay/engine/instance.ts';
import type { Nest } from '../../../src/lay/engine/nest.ts';
import { nest } from '../../../src/lay/engine/nest.ts';
import { boxOf, turned } from '../../../src/lay/engine/polygon.ts';
import { nestInStreams } from '../../../src/lay/engine/streams.ts';
import { commonArea, judged, polygon } from './polygons.ts';

/** Rounds of moves, counted. */
function rounds(count: number): () => number {
  let done = 0;
  return () => done++ / count;
}

const instance: fc.Arbitrary<Instance> = fc.record({
  width: fc.integer({ min: 900, max: 1600 }),
  kinds: fc.array(
    fc.record({
      outline: polygon,
      rotations: fc.constantFrom([0], [0, 180], [0, 90, 180, 270]),
      demand: fc.integer({ min: 0, max: 4 }),
    }),
    { minLength: 1, maxLength: 4 },
  ),
});

/** What another library finds wrong with a layout. */
function faults({ width, kinds }: Instance, { length, placements }: Nest): string[] {
  const found: string[] = [];
  for (const [kind, { demand, rotations }] of kinds.entries()) {
    const own = placements.filter((one) => one.kind === kind);
    if (own.length !== demand) found.push(`${own.length} of ${demand}`);
    if (own.some(({ rotation }) => !rotations.includes(rotation))) found.push('rotation');
  }
  const laid = placements.map(({ kind, rotation, x, y }) => {
    const ring = turned(kinds[kind]!.outline, rotation);
    const { minX, minY, maxX, maxY } = boxOf(ring);
    const slack = 1e-6 * width;
    if (minX + x < -slack || maxX + x > length + slack) found.push('out along the strip');
    if (minY + y < -slack || maxY + y > width + slack) found.push('out across the strip');
    return judged([ring], x, y);
  });
  for (const [i, a] of laid.entries()) {
    // Shapes have some 100 000 square units: a ten-millionth of that.
    for (const b of laid.slice(i + 1)) if (commonArea(a, b) > 0.01) found.push('overlap');
  }
  return found;
}

const mixed = [
  { outline: [0, 0, 300, 0, 300, 200], rotations: [0, 180], demand: 5 },
  { outline: [0, 0, 200, 0, 240, 150, 100, 260, 0, 150], rotations: [0, 180], demand: 4 },
];

describe('nest', () => {
  it('lays every item once, in an allowed turn, in the strip and over no other, at any budget', () => {
    fc.assert(
      fc.property(instance, fc.integer({ min: 1, max: 60 }), fc.nat(99), (one, count, seed) => {
        const found: Nest[] = [];
        const ready = prepared(one);
        const best = nest(ready, seed, { used: rounds(count), found: (each) => found.push(each) });
        expect(faults(one, best)).toEqual([]);
        // Whatever is found on the way may be cut too.
        for (const each of found) expect(faults(one, each)).toEqual([]);
        const lengths = found.map(({ length }) => length);
        expect(lengths).toEqual(lengths.toSorted((a, b) => b - a));
      }),
      { numRuns: 40 },
    );
  });

  it('is the same again for the same seed and rounds, in one thread or more', async () => {
    const job = { seed: 3, limit: { rounds: 80 }, stop: new SharedArrayBuffer(1) };
    const run = (threads: number): Promise<Nest> =>
      nestInStreams({ width: 700, kinds: mixed }, { ...job, threads });
    expect(await run(2)).toEqual(await run(1));
  });

  it('searches: more rounds give a shorter layout', () => {
    const ready = prepared({ width: 720, kinds: mixed });
    const [little, much] = [1, 1500].map((count) => nest(ready, 1, { used: rounds(count) }).length);
    expect(much!).toBeLessThan(little!);
    // Five triangles of 30 000 and four pentagons of 46 200 [D, shoelace]: shorter than full there is none.
    expect(much!).toBeGreaterThanOrEqual((5 * 30_000 + 4 * 46_200) / 720);
  });

  it('lays items in the holes of others', () => {
    const kinds = [
      {
        outline: [0, 0, 600, 0, 600, 500, 0, 500],
        holes: [[100, 100, 100, 400, 500, 400, 500, 100]],
        rotations: [0],
        demand: 1,
      },
      { outline: [0, 0, 390, 0, 390, 290, 0, 290], rotations: [0], demand: 1 },
    ];
    const { length } = nest(prepared({ width: 500, kinds }), 1, { used: rounds(200) });
    expect(length).toBeCloseTo(600, 3);
  });

  it('of nothing is nothing', () => {
    const kinds = [{ outline: [0, 0, 9, 0, 9, 9], rotations: [0], demand: 0 }];
    const empty = { length: 0, placements: [] };
    expect(nest(prepared({ width: 10, kinds }), 1, { used: rounds(5) })).toEqual(empty);
  });

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
  ])('refuses %s', (_, wrong) => {
    expect(() => prepared(wrong)).toThrow(RangeError);
  });
});
