import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/findings.ts';
import { circle } from '../../src/geometry/path.ts';
import { rounded } from '../../src/numbers.ts';
import type { Part } from '../../src/handing/part.ts';
import { layParts, layRounds } from '../../src/lay/lay-parts.ts';
import type { Lay, LayRules, Roll } from '../../src/lay/lay.ts';
import { insideOf } from '../../src/lay/inside.ts';
import { verifyLay } from '../../src/lay/verify.ts';
import { material, oblong, partOf, plainRules, roll, someParts, turns } from './fixtures.ts';

const little = { seed: 1, effort: 6 };

function lay(parts: readonly Part[], rules: Partial<LayRules> = {}, on: Partial<Roll> = {}): Lay {
  return layParts(parts, material, { ...roll, ...on }, { ...plainRules, ...rules }, little);
}

function refusalOf(run: () => unknown): Refusal {
  try {
    run();
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

describe('layParts', () => {
  it('never returns a lay in which the judge finds anything', () => {
    const rules = fc.record({
      turns,
      gap: fc.constantFrom(0, 5),
      biteLength: fc.constantFrom(Infinity, 1100, 1700),
    });
    fc.assert(
      fc.property(someParts, rules, fc.integer({ min: 0, max: 1000 }), (parts, given, seed) => {
        const found = layParts(parts, material, roll, given, { seed, effort: 5 });
        expect(verifyLay(found, parts)).toEqual([]);
      }),
      { numRuns: 150 },
    );
  });

  it('the same seed and effort give the same lay, in whatever order the parts come', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(sets, { minLength: sets.length }), (shuffled) => {
        expect(lay(shuffled, { gap: 4 })).toEqual(lay(sets, { gap: 4 }));
      }),
      { numRuns: 5 },
    );
  });

  it('another seed searches another way', () => {
    const lengths = [1, 2, 3, 4].map(
      (seed) => layParts(sets, material, roll, plainRules, { seed, effort: 30 }).placements,
    );
    expect(new Set(lengths.map((one) => JSON.stringify(one))).size).toBeGreaterThan(1);
  });

  it('more effort never makes a longer lay', () => {
    const lengths = [1, 2, 3, 10, 40].map(
      (effort) => layParts(sets, material, roll, plainRules, { seed: 7, effort }).length,
    );
    expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
  });

  it('writes placements that six decimals hold exactly', () => {
    fc.assert(
      fc.property(someParts, (parts) => {
        for (const { x, y } of lay(parts, { gap: 5 }).placements) {
          expect([x, y]).toEqual([rounded(x, 6), rounded(y, 6)]);
        }
      }),
      { numRuns: 20 },
    );
  });

  it('oblongs that fill the roll exactly are laid without a seam', () => {
    const halves = Array.from({ length: 6 }, (_, i) =>
      partOf(`half.${i}`, oblong(500, 975), [], { pileDeg: 0 }),
    );
    const { length, density } = lay(halves);
    expect(length).toBeCloseTo(40 + 3 * 500, 9);
    expect(density).toBeCloseTo(1500 / 1540, 9);
  });

  it('lays a part as wide as the usable roll and as long as a bite', () => {
    const parts = [1, 2].map((i) => partOf(`whole.${i}`, oblong(1950, 800)));
    const { placements, length } = lay(parts, { biteLength: 800 }, { startMargin: 0 });
    expect(placements.map(({ x, y }) => [x, y])).toEqual([
      [0, 1975],
      [800, 1975],
    ]);
    expect(length).toBeCloseTo(1600, 9);
  });

  it('uses what falls out of a cutout', () => {
    const found = lay(sets, { gap: 5 });
    const inCutouts = [...insideOf(found, sets)].filter(([label]) => label.startsWith('disc'));
    expect(inCutouts.length).toBeGreaterThan(0);
  });

  it('no parts make a lay of no length', () => {
    const empty = lay([]);
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

describe('layRounds on the way', () => {
  const states = (): ReturnType<typeof layRounds> => layRounds(sets, material, roll, plainRules, 1);

  it('has no lay before every part lies somewhere, and then only shorter or equal ones', () => {
    let length = Infinity;
    let asked = 0;
    for (const { lay: found, rounds } of states()) {
      asked++;
      expect(found === null).toBe(rounds === 0);
      expect(found?.length ?? 0).toBeLessThanOrEqual(length);
      length = found?.length ?? length;
      if (rounds === 20) break;
    }
    expect(asked).toBeGreaterThan(20);
  });

  it('whenever it is left, the lay it had is whole and good', () => {
    fc.assert(
      fc.property(fc.integer({ min: sets.length, max: 200 }), (askings) => {
        let asked = 0;
        for (const { lay: found } of states()) {
          if (++asked < askings) continue;
          expect(found).not.toBeNull();
          expect(verifyLay(found!, sets)).toEqual([]);
          break;
        }
      }),
      { numRuns: 10 },
    );
  });
});

describe('layParts refuses', () => {
  it('parts wider than the usable roll: each by name, those alike together, with size and what is usable', () => {
    const wide = partOf('wide.1', oblong(2100, 1999));
    const wider = partOf('wider', oblong(2200, 1999));
    const { findings } = refusalOf(() => lay([...sets, wide, { ...wide, label: 'wide.2' }, wider]));
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

  it('but not a part that fits in another allowed turn', () => {
    expect(lay([partOf('a', oblong(2100, 700))], { turns: 'any' }).length).toBeCloseTo(2140, 9);
  });

  it('parts longer than a bite in every turn that fits across the roll', () => {
    const long = partOf('long', oblong(1960, 1200));
    const { findings } = refusalOf(() => lay([long], { turns: 'any', biteLength: 1500 }));
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ rule: 'part-longer-than-bite', where: { part: 'long' } });
    expect(findings[0]!.message).toContain('1960 mm');
    expect(findings[0]!.message).toContain('1500 mm');
  });

  it('a roll that is too short, with what is missing and what is not on it', () => {
    // Three of 1000 mm behind a margin of 40 on a roll of 2500: 540 mm and one part too many.
    const parts = [1, 2, 3].map((i) => partOf(`whole.${i}`, oblong(1950, 1000)));
    const { findings } = refusalOf(() => lay(parts, {}, { length: 2500 }));
    expect(findings).toHaveLength(1);
    expect(findings[0]!.rule).toBe('roll-too-short');
    expect(findings[0]!.message).toContain('lay of carpet needs 3040 mm');
    expect(findings[0]!.message).toContain('540 mm');
    expect(findings[0]!.message).toMatch(/whole\.3\.$/);
    expect(findings[0]!.message).not.toContain('whole.1');
    expect(lay(parts, {}, { length: 3040 }).length).toBeCloseTo(3040, 9);
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
    ['effort of 0', {}, {}, { effort: 0 }],
  ])('a %s', (words, rules, on, options) => {
    const run = () =>
      layParts(
        sets,
        material,
        { ...roll, ...on },
        { ...plainRules, ...rules },
        { ...little, ...options },
      );
    expect(run).toThrow(RangeError);
    expect(run).toThrow(words);
  });

  it('a label there twice, a part of another material, a contour that is none', () => {
    const a = partOf('a', oblong(100, 100));
    expect(() => lay([a, a])).toThrow('part a is there twice');
    expect(() => lay([{ ...a, material: 'rubber' }])).toThrow('part a is of rubber');
    const open = { ...oblong(100, 100), closed: false };
    for (const cut of [oblong(NaN, 100), open, { closed: true, vertices: [] }]) {
      expect(() => lay([partOf('a', cut)])).toThrow('part a has a contour that is none');
    }
  });
});
