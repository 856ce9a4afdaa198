import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { circle, polyline } from '../../src/geometry/paths/path.ts';
import { rounded } from '../../src/base/numbers.ts';
import type { Part } from '../../src/handing/part.ts';
import type { LaySearch } from '../../src/lay/lay-parts.ts';
import { checkRollLength, layParts } from '../../src/lay/lay-parts.ts';
import type { Lay, LayRules, Roll } from '../../src/lay/lay.ts';
import { insideOf } from '../../src/lay/inside.ts';
import { verifyLay } from './verify.ts';
import { pairs } from './engine/polygons.ts';
import {
  defects,
  material,
  oblong,
  partOf,
  plainRules,
  roll,
  someParts,
  turns,
} from './fixtures.ts';
import { tries } from '../support/thorough.ts';

const little = { seed: 1, limit: { rounds: 8 } };

function lay(
  parts: readonly Part[],
  rules: Partial<LayRules> = {},
  on: Partial<Roll> = {},
  search: Partial<LaySearch> = {},
): Promise<Lay> {
  const whole = { ...little, ...search };
  return layParts(parts, material, { ...roll, ...on }, { ...plainRules, ...rules }, whole);
}

async function refusalOf(run: () => Promise<unknown>): Promise<Refusal> {
  try {
    await run();
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

/** Some of everything, deterministic: three sets of six parts. */
const sets = [1, 2, 3].flatMap((set) => [
  partOf(`floor.${set}`, oblong(900, 1400), [circle({ x: 450, y: 700 }, 200)]),
  partOf(`step.${set}`, oblong(800, 250)),
  partOf(`disc.${set}`, circle({ x: 0, y: 0 }, 150)),
  partOf(`left.${set}`, oblong(320, 640)),
  partOf(`right.${set}`, oblong(320, 640)),
  partOf(`flap.${set}`, oblong(90, 410)),
]);

/** Straight-sided parts that leave a search something to find: triangles and pentagons. */
const leaning = [1, 2, 3, 4, 5].flatMap((set) => [
  partOf(`wedge.${set}`, outlineOf([0, 0, 700, 0, 700, 450])),
  partOf(`house.${set}`, outlineOf([0, 0, 500, 0, 600, 380, 250, 650, 0, 380])),
]);

function outlineOf(corners: readonly number[]): Path {
  return polyline(
    pairs(corners).map(([x, y]) => ({ x, y })),
    true,
  );
}

describe('layParts', () => {
  it('never returns a lay in which the judge finds anything', async () => {
    const rules = fc.record({
      turns,
      gap: fc.constantFrom(0, 5),
      biteLength: fc.constantFrom(Infinity, 1100, 1700),
    });
    await fc.assert(
      fc.asyncProperty(
        someParts,
        rules,
        fc.integer({ min: -1000, max: 1000 }),
        fc.integer({ min: 1, max: 30 }),
        async (parts, given, seed, rounds) => {
          const found = await lay(parts, given, {}, { seed, limit: { rounds } });
          expect(verifyLay(found, parts)).toEqual([]);
        },
      ),
      { numRuns: tries(12, 30) },
    );
  });

  it('the same seed and rounds give the same lay, in whatever order the parts come', async () => {
    const first = await lay(sets, { gap: 4 });
    await fc.assert(
      fc.asyncProperty(
        fc.shuffledSubarray(sets, { minLength: sets.length }),
        fc.constantFrom(1, 2),
        async (shuffled, threads) => {
          expect(await lay(shuffled, { gap: 4 }, {}, { threads })).toEqual(first);
        },
      ),
      { numRuns: 3 },
    );
  });

  it('another seed searches another way', async () => {
    const lays = await Promise.all(
      [1, 2, 3, 4].map((seed) => lay(leaning, {}, {}, { seed, limit: { rounds: 60 } })),
    );
    const distinct = new Set(lays.map(({ placements }) => JSON.stringify(placements)));
    expect(distinct.size).toBeGreaterThan(1);
  });

  it('searches: many rounds give a shorter lay than one, and never one shorter than full', async () => {
    const [one, many] = await Promise.all(
      [1, 300].map((rounds) => lay(leaning, {}, {}, { limit: { rounds } })),
    );
    expect(many!.length).toBeLessThan(one!.length);
    expect(many!.density).toBeLessThan(1);
    // Five times 700 x 450 / 2 and 500 x 380 + 100 x 380 / 2 + (600 x 270 / 2) [D].
    const area = 5 * (157_500 + 190_000 + 19_000 + 81_000);
    for (const { length, density } of [one!, many!]) {
      expect(length).toBeGreaterThan(40 + area / 1950);
      expect(density).toBeCloseTo(area / (length * 1950), 9);
    }
  });

  it('writes placements that six decimals hold exactly', async () => {
    await fc.assert(
      fc.asyncProperty(someParts, async (parts) => {
        const { placements } = await lay(parts, { gap: 5 });
        expect(placements).toHaveLength(parts.length);
        for (const { x, y } of placements) {
          expect([x, y]).toEqual([rounded(x, 6), rounded(y, 6)]);
        }
      }),
      { numRuns: tries(5, 10) },
    );
  });

  it('oblongs that fill the roll exactly are laid without a seam', async () => {
    const halves = Array.from({ length: 6 }, (_, i) =>
      partOf(`half.${i}`, oblong(500, 975), [], { pileDeg: 0 }),
    );
    const { length, density } = await lay(halves);
    expect(length).toBeCloseTo(40 + 3 * 500, 9);
    expect(density).toBeCloseTo(1500 / 1540, 9);
  });

  it('lays a part as wide as the usable roll and as long as a bite', async () => {
    const parts = [1, 2].map((i) => partOf(`whole.${i}`, oblong(1950, 800)));
    const { placements, length } = await lay(parts, { biteLength: 800 }, { startMargin: 0 });
    expect(placements.map(({ x, y }) => [x, y])).toEqual([
      [0, 1975],
      [800, 1975],
    ]);
    expect(length).toBeCloseTo(1600, 9);
  });

  it('uses what falls out of a cutout', async () => {
    const found = await lay(sets, { gap: 5 });
    const inCutouts = [...insideOf(found, sets)].filter(([label]) => label.startsWith('disc'));
    expect(inCutouts.length).toBeGreaterThan(0);
  });

  it('no parts make a lay of no length', async () => {
    const empty = await lay([]);
    expect(empty).toEqual({
      material,
      roll,
      rules: plainRules,
      placements: [],
      length: 0,
      density: 0,
    });
    expect(verifyLay(empty, [])).toEqual([]);
  });
});

describe('a search that begins with a lay', () => {
  it('gives one no longer than that, whatever the seed, around defects too', async () => {
    const given = fc.record({
      parts: someParts,
      flaws: defects,
      seeds: fc.tuple(fc.integer({ min: 1, max: 99 }), fc.integer({ min: 1, max: 99 })),
      rounds: fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 5 })),
      gap: fc.constantFrom(0, 5),
    });
    await fc.assert(
      fc.asyncProperty(given, async ({ parts, flaws, seeds, rounds, gap }) => {
        const [first, second] = seeds.map((seed, i) => ({ seed, limit: { rounds: rounds[i]! } }));
        const before = await lay(parts, { gap }, { defects: flaws }, first);
        const start = before.placements;
        const after = await lay(parts, { gap }, { defects: flaws }, { ...second, start });
        expect(after.length).toBeLessThan(before.length + 1e-5);
        expect(verifyLay(after, parts)).toEqual([]);
      }),
      { numRuns: tries(8, 20) },
    );
  });

  it('adds the parts that it does not have, and passes over those that are no more', async () => {
    const before = await lay(sets, { gap: 5 }, {}, { limit: { rounds: 30 } });
    const { placements: start } = before;
    const fewer = sets.slice(1, -2);
    const some = await lay(fewer, { gap: 5 }, {}, { start });
    expect(verifyLay(some, fewer)).toEqual([]);
    expect(some.length).toBeLessThan(before.length + 1e-5);
    const more = await lay(sets, { gap: 5 }, {}, { start: start.slice(3) });
    expect(verifyLay(more, sets)).toEqual([]);
  });
});

describe('a search that is stopped', () => {
  const stopped = (): SharedArrayBuffer => {
    const stop = new SharedArrayBuffer(1);
    new Uint8Array(stop)[0] = 1;
    return stop;
  };

  it('before it began still gives a whole and good lay', async () => {
    const found = await lay(sets, { gap: 5 }, {}, { stop: stopped(), limit: { rounds: 1e9 } });
    expect(verifyLay(found, sets)).toEqual([]);
  });

  it('on the way gives a whole and good lay, no longer than any that was told', async () => {
    for (const after of [1, 2, 3, 5]) {
      const stop = new SharedArrayBuffer(1);
      const told: number[] = [];
      const found = ({ length }: Pick<Lay, 'length'>): void => {
        if (told.push(length) === after) new Uint8Array(stop)[0] = 1;
      };
      const last = await lay(leaning, { gap: 5 }, {}, { stop, found, limit: { rounds: 60 } });
      expect(told.length).toBeGreaterThan(0);
      expect(verifyLay(last, leaning)).toEqual([]);
      expect(last.length).toBeCloseTo(Math.min(...told), 5);
    }
  });

  it('is told the density that belongs to each length', async () => {
    const told: Pick<Lay, 'length' | 'density'>[] = [];
    const { length, density } = await lay(leaning, {}, {}, { found: (one) => told.push(one) });
    expect(told.length).toBeGreaterThan(0);
    for (const one of told) expect(one.length * one.density).toBeCloseTo(length * density, 6);
  });
});

describe('layParts refuses', () => {
  it('parts wider than the usable roll: each by name, those alike together, with size and what is usable', async () => {
    const wide = partOf('wide.1', oblong(2100, 1999));
    const wider = partOf('wider', oblong(2200, 1999));
    const { findings } = await refusalOf(() =>
      lay([...sets, wide, { ...wide, label: 'wide.2' }, wider]),
    );
    expect(findings.map(({ rule, where }) => [rule, where.part])).toEqual([
      ['part-too-wide', 'wide.1'],
      ['part-too-wide', 'wider'],
    ]);
    expect(findings[0]!.message).toContain('So it is with wide.2.');
    expect(findings[1]!.message).not.toContain('So it is with');
    // Pile at 90 degrees, one way: turned by 270, its 2100 mm lie across the roll.
    expect(findings[0]!.message).toContain('270 degrees');
    expect(findings[0]!.message).toContain('2100 mm');
    expect(findings[0]!.message).toContain('1950 mm');
  });

  it('but not a part that fits in another allowed turn', async () => {
    const { length } = await lay([partOf('a', oblong(2100, 700))], { turns: 'any' });
    expect(length).toBeCloseTo(2140, 9);
  });

  it('parts longer than a bite in every turn that fits across the roll', async () => {
    const long = partOf('long', oblong(1960, 1200));
    const { findings } = await refusalOf(() => lay([long], { turns: 'any', biteLength: 1500 }));
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ rule: 'part-longer-than-bite', where: { part: 'long' } });
    expect(findings[0]!.message).toContain('1960 mm');
    expect(findings[0]!.message).toContain('1500 mm');
  });

  it('a roll that is too short, with what is missing and what is not on it', async () => {
    // Three of 1000 mm behind a margin of 40 on a roll of 2500: 540 mm and one part too many.
    const parts = [1, 2, 3].map((i) => partOf(`whole.${i}`, oblong(1950, 1000)));
    const { findings } = await refusalOf(async () =>
      checkRollLength(await lay(parts, {}, { length: 2500 }), parts),
    );
    expect(findings).toHaveLength(1);
    expect(findings[0]!.rule).toBe('roll-too-short');
    expect(findings[0]!.message).toContain('lay of carpet needs 3040 mm');
    expect(findings[0]!.message).toContain('540 mm');
    expect(findings[0]!.message).toMatch(/whole\.3\.$/);
    expect(findings[0]!.message).not.toContain('whole.1');
    const fitting = await lay(parts, {}, { length: 3040 });
    expect(fitting.length).toBeCloseTo(3040, 9);
    expect(() => checkRollLength(fitting, parts)).not.toThrow();
  });

  it.each<[string, Partial<LayRules>, Partial<Roll>, Partial<typeof little>]>([
    ['gap of -1', { gap: -1 }, {}, {}],
    ['gap of NaN', { gap: NaN }, {}, {}],
    ['bite length of 0', { biteLength: 0 }, {}, {}],
    ['bite length of NaN', { biteLength: NaN }, {}, {}],
    ['roll width of NaN', {}, { width: NaN }, {}],
    ['selvedge of -5', {}, { selvedge: -5 }, {}],
    ['start margin of NaN', {}, { startMargin: NaN }, {}],
    ['roll length of NaN', {}, { length: NaN }, {}],
    ['seed of 1.5', {}, {}, { seed: 1.5 }],
  ])('a %s', async (words, rules, on, search) => {
    const run = lay(sets, rules, on, search);
    await expect(run).rejects.toThrow(RangeError);
    await expect(run).rejects.toThrow(words);
  });

  it('a label there twice, a part of another material, a contour that is none', async () => {
    const a = partOf('a', oblong(100, 100));
    await expect(lay([a, a])).rejects.toThrow('part a is there twice');
    await expect(lay([{ ...a, material: 'rubber' }])).rejects.toThrow('part a is of rubber');
    const open = { ...oblong(100, 100), closed: false };
    for (const cut of [oblong(NaN, 100), open, { closed: true, vertices: [] }]) {
      await expect(lay([partOf('a', cut)])).rejects.toThrow('part a has a contour that is none');
    }
  });
});
