import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/base/findings.ts';
import type { Part } from '../../src/handing/part.ts';
import type { Lay, Placement, Roll } from '../../src/lay/lay.ts';
import type { RollToFill } from '../../src/lay/rolls.ts';
import { ending } from '../../src/lay/engine/engine.ts';
import { layParts } from '../../src/lay/lay-parts.ts';
import { startFaults } from '../../src/lay/pins.ts';
import type { WhatFits } from '../../src/lay/what-fits.ts';
import { holdsNoSet, layWhatFits, soundRolls } from '../../src/lay/what-fits.ts';
import { tries } from '../support/thorough.ts';
import { material, oblong, partOf, plainRules } from './fixtures.ts';
import { verifyLay } from './verify.ts';

/** 1000 mm wide, with no margins. */
function rollOf(
  name: string,
  length: number,
  known: Pick<RollToFill, 'pins' | 'start'> = { pins: [] },
  more: Partial<Roll> = {},
): RollToFill {
  return {
    roll: { width: 1000, selvedge: 0, startMargin: 0, length, name, ...more },
    ...known,
  };
}

/** An oblong as the only part of an order, or as one of several. */
function partIn(order: string, width: number, height: number, name = 'p'): Part {
  const own = { pileDeg: 0, order, set: 1 };
  return partOf(`${name}.1.${order}`, oblong(width, height), [], own);
}

interface Tried extends WhatFits {
  /** What was told while it was searched, at last. */
  readonly unfit: readonly Finding[];
}

/** `seconds`: 0 ends the search with its first lay. */
async function fit(
  parts: readonly Part[],
  rolls: readonly RollToFill[],
  seconds = 0,
): Promise<Tried> {
  let unfit: readonly Finding[] = [];
  const sound = soundRolls(parts, rolls, plainRules);
  const found = await layWhatFits(parts, material, sound.rolls, plainRules, {
    seed: 1,
    seconds,
    stop: new SharedArrayBuffer(1),
    unfit: (left) => (unfit = left),
  });
  return { ...found, unfit };
}

function labelsOn(lays: readonly Lay[]): Record<string, string[]> {
  return Object.fromEntries(
    lays.map(({ roll, placements }) => [roll.name!, placements.map(({ label }) => label)]),
  );
}

function at(label: string, x: number, y: number): Placement {
  return { label, x, y, rotation: 0 };
}

describe('a pin where an earlier search has laid something', () => {
  it('stays, and what lay there is laid anew', async () => {
    const parts = [partIn('A', 400, 600), partIn('B', 400, 600)];
    const pins = [at('p.1.A', 700, 310)];
    const start = [at('p.1.B', 800, 400)];
    const rolls = [rollOf('long', 5000, { pins, start })];
    const sound = soundRolls(parts, rolls, plainRules);
    expect(sound.rolls[0]).toMatchObject({ pins, start: [] });
    expect(sound.faults.map(({ where }) => where.part)).toEqual(['p.1.B']);
    const [lay] = (await fit(parts, rolls)).lays;
    expect(lay!.placements.find(({ label }) => label === 'p.1.A')).toMatchObject(pins[0]!);
    const byLabel = new Map(parts.map((part) => [part.label, part]));
    expect(startFaults(lay!.placements, byLabel, lay!.roll, plainRules)).toEqual([]);
    // Where the whole of an earlier run is begun with, too.
    const again = await layParts(parts, material, rolls[0]!.roll, plainRules, {
      seed: 1,
      limit: { rounds: 1 },
      pins,
      start,
    });
    expect(startFaults(again.placements, byLabel, again.roll, plainRules)).toEqual([]);
  });
});

describe('a roll on which no set can lie', () => {
  const sets = [partIn('A', 900, 1000), partIn('B', 400, 600), partIn('B', 400, 600, 'q')];
  const told = (length: number, more: Partial<Roll> = {}): string | undefined =>
    holdsNoSet(sets, rollOf('rest', length, { pins: [] }, more).roll, plainRules)?.message;

  it('is told, with what the smallest set needs', () => {
    // B is two oblongs of 0.24 m2.
    expect(told(470)).toContain('the smallest has 0.48 m² of parts, and it has 0.47 m²');
    expect(told(480)).toBeUndefined();
    // Shorter than its start margin.
    expect(told(1, { startMargin: 20 })).toContain('and it has 0.00 m²');
    expect(told(2000, { width: 500 })).toContain('too wide or too long');
    const outline = oblong(600, 700).vertices;
    expect(told(2000, { outline })).toContain('it has 0.42 m²');
  });

  it('is not one where nothing is to be cut', () => {
    expect(holdsNoSet([], rollOf('rest', 100).roll, plainRules)).toBeNull();
  });
});

describe('what fits on a roll that is too short for all', () => {
  const whole = ['A', 'B', 'C'].map((order) => partIn(order, 900, 1000));

  it('is laid, and the rest is named with about what is missing', async () => {
    const { lays, left, unfit } = await fit(whole, [rollOf('one', 2000)]);
    expect(labelsOn(lays)).toEqual({ one: ['p.1.A', 'p.1.B'] });
    expect(verifyLay(lays[0]!, whole.slice(0, 2))).toEqual([]);
    // Three times 900 mm of a roll of 2000, laid without loss.
    expect(left.map(({ rule, message }) => [rule, message])).toEqual([
      ['no-room', expect.stringContaining('order C does not fit on carpet: about 0.70 m')],
    ]);
    expect(unfit.map(({ message }) => message.split(':')[0])).toEqual([
      'order C does not fit on carpet',
    ]);
  });

  it('is told for each set alone, and for all that find no room', async () => {
    const { left } = await fit(whole, [rollOf('one', 1000)]);
    // A lies on 900 of 1000 mm; B and C take 900 mm each of another roll like it.
    expect(left.map(({ message }) => message)).toEqual(
      ['B', 'C'].map((order) =>
        expect.stringContaining(
          `order ${order} does not fit on carpet: about 0.80 m of roll are missing for it alone, about 1.80 m for all 2 sets that find no room. A set stays`,
        ),
      ),
    );
  });

  it('is all, if there is room for all', async () => {
    const { lays, left, unfit } = await fit(whole, [rollOf('one', 2700)]);
    expect(lays[0]!.placements).toHaveLength(3);
    expect([...left, ...unfit]).toEqual([]);
  });

  it('is first what lies there already, even if another set is larger', async () => {
    const large = partIn('Z', 1500, 1000);
    const start = [at('p.1.A', 0, 0), at('p.1.B', 900, 0)];
    const known = { pins: [], start };
    const { lays } = await fit([...whole.slice(0, 2), large], [rollOf('one', 2000, known)]);
    expect(labelsOn(lays)).toEqual({ one: ['p.1.A', 'p.1.B'] });
    // Without an earlier lay the largest comes first.
    const fresh = await fit([...whole.slice(0, 2), large], [rollOf('one', 2000)]);
    expect(labelsOn(fresh.lays)).toEqual({ one: ['p.1.Z'] });
  });

  it('keeps a part that is pinned, though its set has no room', async () => {
    const parts = [partIn('A', 900, 1000), partIn('A', 1200, 1000, 'q'), partIn('B', 800, 1000)];
    const known = { pins: [at('p.1.A', 100, 0)] };
    const { lays, left } = await fit(parts, [rollOf('one', 2000, known)]);
    const { placements } = lays[0]!;
    expect(placements.find(({ label }) => label === 'p.1.A')).toMatchObject({ x: 100, y: 0 });
    expect(placements.map(({ label }) => label)).not.toContain('q.1.A');
    expect(left.map(({ message }) => message.split(' does')[0])).toContain('order A');
  });

  it('does not lay a set on another roll, too, where its pinned part stays', async () => {
    const parts = [partIn('A', 900, 1000), partIn('A', 1200, 1000, 'q')];
    const rolls = [rollOf('rest', 2000, { pins: [at('p.1.A', 100, 0)] }), rollOf('long', 5000)];
    const { lays, left } = await fit(parts, rolls);
    expect(labelsOn(lays)).toEqual({ rest: ['p.1.A'] });
    expect(left.map(({ message }) => message.split(' does')[0])).toEqual(['order A']);
  });

  it('is laid anew only where it can no longer lie as it did', async () => {
    // The second lies over the first now; the third is where it was.
    const parts = ['A', 'B', 'C'].map((order) => partIn(order, 400, 400));
    const start = [at('p.1.A', 0, 0), at('p.1.B', 100, 100), at('p.1.C', 0, 500)];
    const { lays, left } = await fit(parts, [rollOf('one', 2000, { pins: [], start })]);
    expect(left).toEqual([]);
    expect(verifyLay(lays[0]!, parts)).toEqual([]);
  });

  it('says why a part fits no roll at all', async () => {
    const wide = partIn('W', 300, 1200);
    const { lays, left } = await fit([...whole, wide], [rollOf('one', 5000)]);
    expect(lays[0]!.placements).toHaveLength(3);
    expect(left.map(({ message }) => message)).toEqual([
      expect.stringMatching(/^order W does not fit on carpet: .*1200 mm across the roll/),
    ]);
  });

  it('is shared by rolls, each set on one of them', async () => {
    const rolls = [rollOf('long', 1900), rollOf('short', 950)];
    const { lays, left } = await fit([...whole, partIn('D', 900, 1000)], rolls);
    expect(Object.values(labelsOn(lays)).map((labels) => labels.length)).toEqual([1, 2]);
    expect(left).toHaveLength(1);
  });

  it('is small sets where a large one has the area and no room', async () => {
    // 0.92 m2 on 1 m2, and the two bars are too wide to lie beside each other.
    const large = ['A', 'B'].flatMap((order) =>
      ['p', 'q'].map((name) => partIn(order, 900, 510, name)),
    );
    const small = ['C', 'D'].map((order) => partIn(order, 250, 280));
    const rolls = [rollOf('rest', 1000), rollOf('long', 5000)];
    const { lays, left } = await fit([...large, ...small], rolls);
    expect(left).toEqual([]);
    expect(labelsOn(lays)['rest']).toEqual(['p.1.C', 'p.1.D']);
  });

  it('is a set whose first lay is too long for the roll, if a search shortens it', async () => {
    // On 700 mm they lie in two rows, 150 and 400 wide, and the third part stands on its end beside the second.
    const sizes = [
      [700, 150],
      [450, 400],
      [150, 550],
      [250, 300],
    ] as const;
    const parts = sizes.map(([w, h], i) => partIn('A', w, h, `p${i}`));
    const rolls = [rollOf('rest', 702), rollOf('long', 5000)];
    const first = await fit(parts, rolls);
    expect(Object.keys(labelsOn(first.lays))).toEqual(['long']);
    const stop = new SharedArrayBuffer(1);
    const { lays } = await layWhatFits(parts, material, rolls, plainRules, {
      seed: 1,
      seconds: 60,
      stop,
      // What is told fits: no more is asked for.
      found: () => Atomics.store(new Uint8Array(stop), 0, ending.atOnce),
    });
    expect(Object.keys(labelsOn(lays))).toEqual(['rest']);
  });

  it('is whole sets in sound lays, and nothing is both laid and left', async () => {
    const sizes = fc.tuple(fc.integer({ min: 80, max: 700 }), fc.integer({ min: 80, max: 1100 }));
    const sets = fc.array(fc.array(sizes, { minLength: 1, maxLength: 3 }), {
      minLength: 1,
      maxLength: 5,
    });
    const lengths = fc.array(fc.integer({ min: 300, max: 1500 }), { minLength: 1, maxLength: 3 });
    let [laid, leftOver] = [0, 0];
    await fc.assert(
      fc.asyncProperty(sets, lengths, async (some, long) => {
        const parts = some.flatMap((own, s) =>
          own.map(([w, h], i) => partIn(`O${s}`, w, h, `p${i}`)),
        );
        const rolls = long.map((length, i) => rollOf(`r${i}`, length));
        const { lays, left } = await fit(parts, rolls);
        const labels = lays.flatMap(({ placements }) => placements.map(({ label }) => label));
        const orders = new Set(labels.map((label) => label.split('.')[2]!));
        expect(labels.sort()).toEqual(
          parts.flatMap(({ label, order }) => (orders.has(order) ? [label] : [])).sort(),
        );
        for (const lay of lays) {
          const own = new Set(lay.placements.map(({ label }) => label));
          const on = parts.filter(({ label }) => own.has(label));
          expect(verifyLay(lay, on)).toEqual([]);
          expect(lay.length).toBeLessThanOrEqual(lay.roll.length + 1e-6);
        }
        expect(left).toHaveLength(some.length - orders.size);
        laid += orders.size;
        leftOver += left.length;
      }),
      { numRuns: tries(20, 60) },
    );
    expect(Math.min(laid, leftOver)).toBeGreaterThan(5);
  });
});
