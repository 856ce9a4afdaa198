import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LayRules, Lie } from '../../src/lay/lay.ts';
import {
  allowedRotations,
  layName,
  mayTurn,
  triedRotations,
  turnsInWords,
} from '../../src/lay/lay.ts';
import { layParts } from '../../src/lay/lay-parts.ts';
import { verifyLay } from './verify.ts';
import { material, oblong, partOf, plainRules, roll, someParts, turns } from './fixtures.ts';
import { tries } from '../support/thorough.ts';

/** Degrees between two turns, by the angle between their directions. */
function between(a: number, b: number): number {
  const radians = ((a - b) * Math.PI) / 180;
  return (Math.abs(Math.atan2(Math.sin(radians), Math.cos(radians))) * 180) / Math.PI;
}

const step = fc.integer({ min: 0, max: 30 });
const lies: fc.Arbitrary<Lie> = fc
  .record({
    pileDeg: fc.option(fc.double({ min: -360, max: 720, noNaN: true }), { nil: null }),
    turns: fc.option(turns, { nil: undefined }),
    tilt: fc.option(
      step.map((half) => half / 2),
      { nil: undefined },
    ),
  })
  .map(({ pileDeg, turns: own, tilt }) => ({
    pileDeg,
    ...(own === undefined ? {} : { turns: own }),
    ...(tilt === undefined ? {} : { tilt }),
  }));

describe('turns', () => {
  it('lay the pile along the roll, half round or a quarter round, as the part or else its material says', () => {
    fc.assert(
      fc.property(lies, turns, (lie, ofMaterial) => {
        const may = { 'one-way': [0], 'two-way': [0, 180], any: [0, 90, 180, 270] };
        const leans = allowedRotations(lie, ofMaterial).map((deg) => deg + (lie.pileDeg ?? 0));
        const meant = may[lie.turns ?? ofMaterial];
        expect(leans).toHaveLength(meant.length);
        for (const [i, deg] of leans.entries()) expect(between(deg, meant[i]!)).toBeLessThan(1e-9);
      }),
    );
  });

  it('that are tried are within the tilt of an allowed one, and may be', () => {
    fc.assert(
      fc.property(lies, turns, (lie, ofMaterial) => {
        const allowed = allowedRotations(lie, ofMaterial);
        const tried = triedRotations(lie, ofMaterial);
        for (const deg of tried) {
          expect(deg).toBeGreaterThanOrEqual(0);
          expect(deg).toBeLessThan(360);
          const off = Math.min(...allowed.map((one) => between(one, deg)));
          expect(off).toBeLessThan((lie.tilt ?? 0) + 1e-9);
          expect(mayTurn(lie, ofMaterial, deg, 1e-9)).toBe(true);
        }
        for (const one of allowed) expect(tried).toContain(one);
        if ((lie.tilt ?? 0) === 0) expect(tried).toEqual(allowed);
      }),
    );
  });

  // Pile along the part, at 30 degrees: turned by 330 it lies along the roll.
  it.each<[string, Partial<Lie>, LayRules['turns'], number, boolean]>([
    ['the one turn', {}, 'one-way', 330, true],
    ['the one turn, a round further', {}, 'one-way', -30, true],
    ['the one turn within the tolerance', {}, 'one-way', 330.0009, true],
    ['the one turn past the tolerance', {}, 'one-way', 330.0011, false],
    ['a half turn', {}, 'one-way', 150, false],
    ['a half turn of two ways', {}, 'two-way', 150, true],
    ['a half turn of a piece that may', { turns: 'two-way' }, 'one-way', 150, true],
    ['a quarter turn of a piece that may', { turns: 'any' }, 'one-way', 60, true],
    ['a quarter turn of a piece that may not', { turns: 'one-way' }, 'any', 60, false],
    ['all of the tilt', { tilt: 3 }, 'one-way', 333, true],
    ['all of the tilt the other way', { tilt: 3 }, 'one-way', 327, true],
    ['more than the tilt', { tilt: 3 }, 'one-way', 333.0011, false],
    ['more than the tilt the other way', { tilt: 3 }, 'one-way', 326.9989, false],
    ['a tilt of no degrees', { tilt: 0 }, 'one-way', 330.5, false],
    ['a tilt about a half turn', { tilt: 3 }, 'two-way', 147, true],
    ['a tilt about a half turn that may not be', { tilt: 3 }, 'one-way', 147, false],
  ])('%s', (_, lie, ofMaterial, deg, may) => {
    expect(mayTurn({ pileDeg: 30, ...lie }, ofMaterial, deg, 1e-3)).toBe(may);
  });

  it('are told in degrees', () => {
    expect(turnsInWords({ pileDeg: 90 }, 'two-way')).toBe('270, 90');
    expect(turnsInWords({ pileDeg: 90, turns: 'one-way', tilt: 2.5 }, 'any')).toBe(
      '270, or up to 2.5 aside',
    );
  });
});

describe('a lay', () => {
  it('turns no part but as its pile and its tilt allow', async () => {
    const tilts = fc.array(fc.constantFrom(undefined, 0, 2, 7.5), { minLength: 9, maxLength: 9 });
    await fc.assert(
      fc.asyncProperty(someParts, tilts, turns, async (some, tilted, ofMaterial) => {
        const parts = some.map((part, i) => {
          const tilt = tilted[i % tilted.length];
          return tilt === undefined ? part : { ...part, tilt };
        });
        const rules = { ...plainRules, turns: ofMaterial, gap: 4 };
        const lay = await layParts(parts, material, roll, rules, {
          seed: 1,
          limit: { rounds: 5 },
        });
        expect(verifyLay(lay, parts)).toEqual([]);
        for (const { label, rotation } of lay.placements) {
          const part = parts.find((one) => one.label === label)!;
          const off = allowedRotations(part, ofMaterial).map((deg) => between(deg, rotation));
          expect(Math.min(...off)).toBeLessThan((part.tilt ?? 0) + 1e-9);
        }
      }),
      { numRuns: tries(5, 12) },
    );
  });

  it('tilts a part that has room in no other way, and none that may not', async () => {
    // As wide as the usable roll when its sides lie along it; its pile leans 2 degrees aside from them.
    const leaning = partOf('leaning', oblong(500, 1950), [], { pileDeg: 2 });
    const search = { seed: 1, limit: { rounds: 5 } };
    const may = { ...leaning, tilt: 2 };
    const { placements, length } = await layParts([may], material, roll, plainRules, search);
    expect(placements).toMatchObject([{ rotation: 0 }]);
    expect(length).toBeCloseTo(540, 6);
    for (const part of [leaning, { ...leaning, tilt: 1.9 }]) {
      await expect(layParts([part], material, roll, plainRules, search)).rejects.toThrow(
        '1950 mm are usable',
      );
    }
  });

  it('turns a piece as it says itself, not as its material', async () => {
    // 2100 mm lie along the roll in no turn but a quarter.
    const search = { seed: 1, limit: { rounds: 5 } };
    const wide = partOf('wide', oblong(700, 2100), [], { pileDeg: 0 });
    const free = { ...wide, turns: 'any' as const };
    const lay = await layParts([free], material, roll, plainRules, search);
    expect([90, 270]).toContain(lay.placements[0]!.rotation);
    const bound = { ...wide, turns: 'two-way' as const };
    const loose = { ...plainRules, turns: 'any' as const };
    await expect(layParts([bound], material, roll, loose, search)).rejects.toThrow('2100 mm');
  });
});

describe('layName', () => {
  it('is the material’s, and the roll’s where it has one', () => {
    expect(layName({ material, roll })).toBe('carpet');
    expect(layName({ material, roll: { ...roll, name: 'B2' } })).toBe('carpet-B2');
  });
});
