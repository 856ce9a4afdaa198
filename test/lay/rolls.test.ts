import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import type { Part } from '../../src/handing/part.ts';
import type { Lay, Placement, Roll } from '../../src/lay/lay.ts';
import type { RollToFill } from '../../src/lay/rolls.ts';
import { layOnRolls } from '../../src/lay/rolls.ts';
import { verifyLay } from './verify.ts';
import { material, oblong, partOf, plainRules } from './fixtures.ts';
import { tries } from '../support/thorough.ts';

/** 1000 mm wide, with no margins. */
function rollOf(
  name: string,
  length: number,
  more: Partial<Roll> = {},
  pins: readonly Placement[] = [],
): RollToFill {
  return { roll: { width: 1000, selvedge: 0, startMargin: 0, length, name, ...more }, pins };
}

/** An oblong as a part of a set of order A. */
function partIn(set: number, name: string, width: number, height: number): Part {
  return partOf(`${name}.${set}.A`, oblong(width, height), [], { pileDeg: 0, order: 'A', set });
}

function layOn(parts: readonly Part[], rolls: readonly RollToFill[]): Promise<Lay[]> {
  return layOnRolls(parts, material, rolls, plainRules, { seed: 1, limit: { rounds: 5 } });
}

async function refusalOf(run: Promise<unknown>): Promise<Refusal> {
  const error = await run.then(
    () => null,
    (reason: unknown) => reason,
  );
  if (error instanceof Refusal) return error;
  throw error ?? new Error('nothing was refused');
}

/** What lies on each roll. */
function laidOn(lays: readonly Lay[]): Record<string, string[]> {
  return Object.fromEntries(
    lays.map(({ roll, placements }) => [roll.name!, placements.map(({ label }) => label)]),
  );
}

const someSets = fc
  .array(
    fc.array(fc.tuple(fc.integer({ min: 80, max: 700 }), fc.integer({ min: 80, max: 900 })), {
      minLength: 1,
      maxLength: 4,
    }),
    { minLength: 1, maxLength: 5 },
  )
  .map((sets) =>
    sets.flatMap((sizes, s) => sizes.map(([w, h], i) => partIn(s + 1, `p${i}`, w, h))),
  );

const someRolls = fc
  .array(fc.integer({ min: 300, max: 2500 }), { minLength: 2, maxLength: 3 })
  .map((lengths) => lengths.map((length, i) => rollOf(`r${i}`, length)));

describe('layOnRolls', () => {
  it('lays every part once and each set on one roll, in good lays no longer than their rolls', async () => {
    let laid = 0;
    await fc.assert(
      fc.asyncProperty(someSets, someRolls, async (parts, rolls) => {
        const lays = await layOn(parts, rolls).catch((error: unknown) => {
          if (!(error instanceof Refusal)) throw error;
          expect(error.findings.map(({ rule }) => rule)).toEqual(['rolls-too-short']);
          return null;
        });
        if (lays === null) return;
        laid++;
        const labels = lays.flatMap(({ placements }) => placements.map(({ label }) => label));
        expect(labels.sort()).toEqual(parts.map(({ label }) => label).sort());
        for (const lay of lays) {
          const own = lay.placements.map(({ label }) => label);
          const sets = new Set(own.map((label) => label.split('.')[1]));
          const whole = parts.filter(({ set }) => sets.has(String(set)));
          expect(verifyLay(lay, whole)).toEqual([]);
          expect(rolls.map(({ roll }) => roll)).toContainEqual(lay.roll);
        }
        expect(new Set(lays.map(({ roll }) => roll.name)).size).toBe(lays.length);
      }),
      { numRuns: tries(15, 40) },
    );
    expect(laid).toBeGreaterThan(5);
  });

  const three = [1, 2, 3].map((set) => partIn(set, 'whole', 900, 1000));

  it('uses short rolls first, in whatever order they come', async () => {
    const rolls = [rollOf('long', 5000), rollOf('shortest', 950), rollOf('short', 1000)];
    for (const some of [rolls, rolls.toReversed()]) {
      const lays = await layOn(three, some);
      expect(laidOn(lays)).toEqual({
        shortest: ['whole.1.A'],
        short: ['whole.2.A'],
        long: ['whole.3.A'],
      });
    }
  });

  it('leaves a roll alone that is not needed', async () => {
    const lays = await layOn(three, [rollOf('endless', Infinity), rollOf('long', 2900)]);
    expect(laidOn(lays)).toEqual({ long: three.map(({ label }) => label) });
  });

  it('takes a remnant or a roll with a defect for as short as it is', async () => {
    const outline = oblong(950, 1000).vertices;
    const defect = oblong(2000, 1000, 950, 0).vertices;
    const lays = await layOn(three, [
      rollOf('whole', 1900),
      rollOf('remnant', 3000, { outline }),
      rollOf('spoilt', 2950, { defects: [defect] }),
    ]);
    expect(laidOn(lays)).toEqual({
      remnant: ['whole.1.A'],
      spoilt: ['whole.2.A'],
      whole: ['whole.3.A'],
    });
  });

  it('takes the next set where the largest is too wide for a roll', async () => {
    const parts = [partIn(1, 'wide', 600, 1200), partIn(2, 'slim', 600, 900)];
    const lays = await layOn(parts, [rollOf('long', 3000, { width: 1300 }), rollOf('short', 700)]);
    expect(laidOn(lays)).toEqual({ short: ['slim.2.A'], long: ['wide.1.A'] });
  });

  it('puts a set that only the long roll holds on it', async () => {
    const lays = await layOn(
      [partIn(1, 'long', 1200, 700)],
      [rollOf('short', 1000), rollOf('long', 1300)],
    );
    expect(laidOn(lays)).toEqual({ long: ['long.1.A'] });
  });

  it('a set that is too long for a roll keeps no other from it', async () => {
    const parts = [partIn(1, 'long', 1200, 700), partIn(2, 'short', 800, 800)];
    const lays = await layOn(parts, [rollOf('short', 1000), rollOf('long', 1300)]);
    expect(laidOn(lays)).toEqual({ short: ['short.2.A'], long: ['long.1.A'] });
  });

  it('nor does one that the roll has the area for, and no room', async () => {
    const bar = [0, 1].map((i) => partIn(1, `bar${i}`, 900, 510));
    const parts = [...bar, partIn(2, 'small', 700, 700)];
    const lays = await layOn(parts, [rollOf('short', 1000), rollOf('long', 1900)]);
    expect(laidOn(lays)).toEqual({ short: ['small.2.A'], long: ['bar0.1.A', 'bar1.1.A'] });
  });

  it('fills rolls to the last where parts do', async () => {
    const parts = [partIn(1, 'whole', 1000, 1000), partIn(2, 'whole', 1000, 1000)];
    const lays = await layOn(parts, [rollOf('one', 1000), rollOf('two', 1000)]);
    expect(lays.map(({ density }) => density)).toEqual([1, 1]);
  });

  it('finds a remnant with ten millimetres of play', async () => {
    const outline = [
      { x: 100, y: 200 },
      { x: 500, y: 200 },
      { x: 500, y: 800 },
      { x: 100, y: 800 },
    ];
    const parts = [partIn(1, 'fit', 390, 590)];
    const lays = await layOn(parts, [rollOf('rest', 500, { outline })]);
    expect(verifyLay(lays[0]!, parts)).toEqual([]);
  });

  it('refuses by name the sets that are left over, with the rolls', async () => {
    const run = layOn(three, [rollOf('one', 950), rollOf('two', 1000)]);
    const { findings } = await refusalOf(run);
    expect(findings).toHaveLength(1);
    expect(findings[0]!.rule).toBe('rolls-too-short');
    expect(findings[0]!.message).toContain(
      '(one, two) have no room for set 3 of order A: about 0.80 m of roll are missing.',
    );
  });

  it('refuses a set that would have room only on two rolls', async () => {
    const set = [partIn(1, 'a', 900, 1000), partIn(1, 'b', 900, 1000)];
    const { findings } = await refusalOf(layOn(set, [rollOf('one', 1000), rollOf('two', 1000)]));
    expect(findings[0]!.message).toContain('no room for set 1 of order A');
  });

  it('refuses a part too wide for all rolls with what the widest takes', async () => {
    const run = layOn(
      [partIn(1, 'wide', 300, 1200)],
      [rollOf('one', 5000), rollOf('two', 900, { width: 1140, selvedge: 20 })],
    );
    const { findings } = await refusalOf(run);
    expect(findings.map(({ rule, where }) => [rule, where.part])).toEqual([
      ['part-too-wide', 'wide.1.A'],
    ]);
    expect(findings[0]!.message).toContain('1100 mm are usable');
  });

  it('is the same whatever the order of the parts', async () => {
    const rolls = [rollOf('one', 1900), rollOf('two', 2000)];
    expect(await layOn(three.toReversed(), rolls)).toEqual(await layOn(three, rolls));
  });

  it('begins on each roll with its earlier lay, and gives none that is longer', async () => {
    const sizes = [
      [600, 500],
      [450, 480],
      [300, 900],
      [500, 400],
    ] as const;
    const parts = sizes.map(([w, h], i) => partIn(i + 1, 'p', w, h));
    const rolls = [rollOf('one', 1300), rollOf('two', 1500)];
    const before = await layOn(parts, rolls);
    const begun = before.map(({ roll, placements }) => ({ roll, pins: [], start: placements }));
    const after = await layOn(parts, begun);
    expect(laidOn(after)).toEqual(laidOn(before));
    for (const [i, { length }] of after.entries()) {
      expect(length).toBeLessThan(before[i]!.length + 1e-5);
    }
  });

  it('lays a single roll, and refuses one that is too short', async () => {
    const [lay] = await layOn(three, [rollOf('one', 2700)]);
    expect(lay!.length).toBeCloseTo(2700, 6);
    const { findings } = await refusalOf(layOn(three, [rollOf('one', 2699)]));
    expect(findings.map(({ rule }) => rule)).toEqual(['roll-too-short']);
  });
});

describe('parts that have more area than their rolls', () => {
  const whole = ['A', 'B'].map((name, i) => partIn(i + 1, name, 900, 1000));
  const pin: Placement = { label: whole[0]!.label, x: 0, y: 0, rotation: 0 };

  it('are refused at once where some lie already: the search round these takes long', async () => {
    const search = { seed: 1, limit: { rounds: 1e9 } };
    const on = (rolls: RollToFill[]): Promise<unknown> =>
      layOnRolls(whole, material, rolls, plainRules, search);
    // 1.8 m2 on 1.5 m2: 0.3 m of a roll of 1000 mm are missing.
    const { findings } = await refusalOf(on([rollOf('one', 1500, {}, [pin])]));
    expect(findings.map(({ rule }) => rule)).toEqual(['roll-too-short']);
    expect(findings[0]!.message).toContain('1.80 m², and its roll has 1.50 m²: at least 0.30 m');
    const two = [rollOf('one', 900, {}, [pin]), rollOf('two', 600)];
    const { findings: several } = await refusalOf(on(two));
    expect(several.map(({ rule }) => rule)).toEqual(['rolls-too-short']);
  });
});

describe('pins on several rolls', () => {
  it('are refused where they would part a set, or have a part lie twice', async () => {
    const parts = [partIn(1, 'a', 300, 300), partIn(1, 'b', 300, 300)];
    const pin = (label: string): Placement => ({ label, x: 0, y: 0, rotation: 0 });
    for (const second of ['a.1.A', 'b.1.A']) {
      const rolls = [
        rollOf('one', 1000, {}, [pin('a.1.A')]),
        rollOf('two', 1000, {}, [pin(second)]),
      ];
      const { findings } = await refusalOf(layOn(parts, rolls));
      expect(findings).toMatchObject([{ rule: 'pins-on-two-rolls' }]);
      expect(findings[0]!.message).toContain('one and two');
    }
  });

  const parts = [
    partIn(1, 'mat', 400, 900),
    partIn(2, 'mat', 400, 900),
    partIn(2, 'step', 100, 100),
  ];

  it('keep a set on their roll, and lie where they are told', async () => {
    const pin = { label: 'step.2.A', x: 777, y: 333, rotation: 0 };
    const lays = await layOn(parts, [rollOf('long', 3000, {}, [pin]), rollOf('short', 1000)]);
    expect(laidOn(lays)).toEqual({ short: ['mat.1.A'], long: ['mat.2.A', 'step.2.A'] });
    expect(lays[1]!.placements).toContainEqual(pin);
  });

  it('go before all else on their roll', async () => {
    const pin = { label: 'step.2.A', x: 690, y: 0, rotation: 0 };
    const lays = await layOn(parts, [rollOf('short', 790, {}, [pin]), rollOf('long', 3000)]);
    expect(laidOn(lays)).toMatchObject({ short: ['mat.2.A', 'step.2.A'] });
    expect(lays[0]!.placements).toContainEqual(pin);
  });

  it('are refused for what is wrong with them', async () => {
    const on = (pin: Partial<Placement>): Promise<Lay[]> => {
      const whole = { label: 'step.2.A', x: 700, y: 0, rotation: 0, ...pin };
      return layOn(parts, [rollOf('short', 800, {}, [whole]), rollOf('long', 3000)]);
    };
    const rulesOf = async (pin: Partial<Placement>): Promise<string[]> =>
      (await refusalOf(on(pin))).findings.map(({ rule }) => rule);
    expect(await rulesOf({ label: 'step.3.A' })).toEqual(['pin-unknown']);
    expect(await rulesOf({ rotation: 90 })).toEqual(['pin-turn']);
    expect(await rulesOf({ x: 701 })).toEqual(['lay-end']);
  });
});
