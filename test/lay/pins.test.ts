import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import { circle } from '../../src/geometry/paths/path.ts';
import { layParts } from '../../src/lay/lay-parts.ts';
import type { LayRules, Placement, Roll } from '../../src/lay/lay.ts';
import { checkPins, pinnedKinds } from '../../src/lay/pins.ts';
import { turned } from '../../src/lay/engine/polygon.ts';
import { verifyLay } from './verify.ts';
import { defects, material, oblong, partOf, roll, someParts, turns } from './fixtures.ts';
import { tries } from '../support/thorough.ts';

const rules: LayRules = { turns: 'one-way', gap: 5, biteLength: 1000 };

const parts = [
  partOf('mat', oblong(400, 300), [circle({ x: 200, y: 150 }, 100)], { pileDeg: 0 }),
  partOf('step', oblong(200, 100), [], { pileDeg: 0, tilt: 3 }),
  partOf('disc', circle({ x: 0, y: 0 }, 90), [], { pileDeg: 90 }),
];

const flawed: Roll = {
  ...roll,
  length: 2950,
  defects: [oblong(50, 50, 800, 800).vertices],
  outline: [
    { x: 0, y: 0 },
    { x: 3000, y: 0 },
    { x: 3000, y: 2000 },
    { x: 500, y: 2000 },
    { x: 0, y: 1000 },
  ],
};

function pin(label: string, x: number, y: number, rotation = 0): Placement {
  return { label, x, y, rotation };
}

function refusalOf(pins: readonly Placement[]): Refusal {
  try {
    checkPins(pins, parts, flawed, rules);
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

describe('checkPins', () => {
  it('takes pins that keep off each other and everything else, in a cutout and tilted too', () => {
    const good = [pin('mat', 40, 25), pin('disc', 240, 175, 270), pin('step', 500, 400, 357)];
    expect(() => checkPins(good, parts, flawed, rules)).not.toThrow();
    expect(() => checkPins([], parts, flawed, rules)).not.toThrow();
  });

  it.each<[string, Placement[], string, string]>([
    ['of a part that is not there', [pin('mut', 100, 100)], 'pin-unknown', 'mut'],
    ['twice', [pin('mat', 100, 100), pin('mat', 600, 100)], 'pin-twice', 'mat'],
    ['twice at one place', [pin('mat', 100, 100), pin('mat', 100, 100)], 'pin-twice', 'mat'],
    ['against the pile', [pin('mat', 500, 500, 180)], 'pin-turn', 'mat'],
    ['tilted too far', [pin('step', 500, 500, 3.1)], 'pin-turn', 'step'],
    ['in the margin at the start', [pin('mat', 39, 100)], 'lay-start', 'mat'],
    ['past the end of the roll', [pin('step', 2751, 100)], 'lay-end', 'step'],
    ['over the near selvedge', [pin('mat', 100, 24)], 'lay-selvedge', 'mat'],
    ['over the far selvedge', [pin('mat', 500, 1676)], 'lay-selvedge', 'mat'],
    ['over a defect', [pin('mat', 500, 700)], 'lay-defect', 'mat'],
    ['past the edge of the remnant', [pin('mat', 100, 1200)], 'lay-remnant', 'mat'],
    ['over another', [pin('mat', 100, 100), pin('step', 450, 200)], 'lay-overlap', 'mat'],
    ['nearer than the gap', [pin('mat', 100, 100), pin('step', 504, 200)], 'lay-gap', 'mat'],
  ])('refuses a pin %s', (_, pins, rule, part) => {
    const { findings } = refusalOf(pins);
    expect(findings.map((one) => [one.rule, one.where.part])).toEqual([[rule, part]]);
    expect(findings[0]!.todo).toContain('pin');
  });

  it('says which turns there are, and finds all that is wrong', () => {
    const { findings } = refusalOf([
      pin('disc', 500, 500),
      pin('step', 700, 500, 4),
      pin('mut', 0, 0),
    ]);
    expect(findings.map(({ rule }) => rule)).toEqual(['pin-turn', 'pin-turn', 'pin-unknown']);
    expect(findings[0]!.message).toContain('a turn of 0 degrees; its pile allows 270.');
    expect(findings[1]!.message).toContain('its pile allows 0, or up to 3 aside.');
  });
});

describe('pinnedKinds', () => {
  it('lie where the parts lie, from the start margin and inside the selvedge, grown by half the gap', () => {
    const kinds = pinnedKinds(
      [pin('mat', 300, 400), pin('disc', 800, 700, 270)],
      parts,
      roll,
      rules,
      0,
    );
    const [mat, disc] = kinds.map(({ outline, holes = [], places: [place] }) => {
      const { rotation, x, y } = place!;
      const there = (ring: readonly number[]): number[] =>
        turned(ring, rotation).map((value, i) => value + (i % 2 === 0 ? x : y));
      return { outline: there(outline), holes: holes.map(there) };
    });
    const extent = (ring: readonly number[], axis: 0 | 1): [number, number] => {
      const values = ring.filter((_, i) => i % 2 === axis);
      return [Math.min(...values), Math.max(...values)];
    };
    // Half the gap is 2.5; outlines may be larger by 0.02 mm.
    const near = (found: [number, number], meant: [number, number]): void => {
      expect(found[0]).toBeLessThanOrEqual(meant[0] - 2.5);
      expect(found[0]).toBeGreaterThan(meant[0] - 2.52);
      expect(found[1]).toBeGreaterThanOrEqual(meant[1] + 2.5);
      expect(found[1]).toBeLessThan(meant[1] + 2.52);
    };
    near(extent(mat!.outline, 0), [260, 660]);
    near(extent(mat!.outline, 1), [375, 675]);
    near(extent(disc!.outline, 0), [670, 850]);
    near(extent(disc!.outline, 1), [585, 765]);
    expect(mat!.holes).toHaveLength(1);
  });
});

describe('a lay around pins', () => {
  it('leaves them exactly where they are told, and all parts off each other', async () => {
    const some = fc.record({
      parts: someParts,
      flaws: defects,
      ofMaterial: turns,
      picked: fc.integer({ min: 1, max: 511 }),
      gap: fc.constantFrom(0, 5),
      biteLength: fc.constantFrom(Infinity, 1700),
    });
    await fc.assert(
      fc.asyncProperty(some, async (given) => {
        const { flaws, ofMaterial, picked, gap, biteLength } = given;
        const on = { ...roll, defects: flaws };
        const own = { turns: ofMaterial, gap, biteLength };
        const limit = { rounds: 5 };
        const before = await layParts(given.parts, material, on, own, { seed: 1, limit });
        const pins = before.placements.filter((_, i) => (picked >> i) % 2 === 1);
        const after = await layParts(given.parts, material, on, own, { seed: 2, limit, pins });
        expect(verifyLay(after, given.parts)).toEqual([]);
        expect(after.placements.filter((_, i) => (picked >> i) % 2 === 1)).toEqual(pins);
      }),
      { numRuns: tries(6, 20) },
    );
  });

  it('of all its parts is the lay that was told', async () => {
    const pins = [pin('disc', 240, 175, 270), pin('mat', 40, 25), pin('step', 600, 400, 3)];
    const lay = await layParts(parts, material, flawed, rules, {
      seed: 1,
      limit: { rounds: 5 },
      pins: pins.toReversed(),
    });
    expect(lay.placements).toEqual(pins);
    // The step's corner, 200 mm along, turned by 3 degrees.
    expect(lay.length).toBeCloseTo(600 + 200 * Math.cos((3 * Math.PI) / 180), 9);
    expect(verifyLay(lay, parts)).toEqual([]);
  });

  it('refuses pins that cannot be', async () => {
    const search = { seed: 1, limit: { rounds: 5 }, pins: [pin('mat', 0, 100)] };
    await expect(layParts(parts, material, roll, rules, search)).rejects.toThrow(
      'part mat: the part reaches 40 mm into the margin',
    );
  });
});
