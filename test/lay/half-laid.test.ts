import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import type { Part } from '../../src/handing/part.ts';
import { layRules } from '../../src/jobs/lay-materials.ts';
import type { Lay, LayRules } from '../../src/lay/lay.ts';
import { layOnRolls } from '../../src/lay/rolls.ts';
import type { RollToFill } from '../../src/lay/rolls.ts';
import { materialOf } from '../../src/pattern/shop/material.ts';
import { readJob } from '../../src/run/job.ts';
import { verifyLay } from './verify.ts';

// Two sets of real carpet, 24 parts each, with some parts laid: the search round these once had no end.

const search = { seed: 1, limit: { rounds: 20 }, threads: 1 };

let parts: readonly Part[];
let rules: LayRules;
/** Where a short search has all parts, on a roll of any length. */
let known: Lay;

function rollOf(name: string, length: number): RollToFill {
  return { roll: { ...known.roll, name, length }, pins: [] };
}

async function refusalOf(laying: Promise<unknown>): Promise<string> {
  const error = await laying.catch((thrown: unknown) => thrown);
  expect(error).toBeInstanceOf(Refusal);
  return (error as Refusal).message;
}

beforeAll(async () => {
  const job = readJob(join('patterns', 'fenlark-week.yaml'), 'shared');
  const material = materialOf(job.materials, 'carpet-loop');
  parts = job.parts.filter((part) => part.material === material.name && part.colour === 'graphite');
  rules = layRules(material, job.cutter);
  const { width, selvedge, startMargin } = material.roll;
  const roll = { width, selvedge, startMargin, length: Infinity, colour: 'graphite' };
  [known] = (await layOnRolls(parts, material.name, [{ roll, pins: [] }], rules, search)) as [Lay];
});

describe('two sets, one of them laid in half', () => {
  it('are laid round what lies already, where the roll is long enough', async () => {
    const pins = known.placements.filter(({ label }, i) => label.endsWith('1041') || i % 4 === 1);
    expect(pins.length).toBeLessThan(parts.length);
    const one = { ...rollOf('one', known.length + 3000), pins };
    const [lay] = await layOnRolls(parts, known.material, [one], rules, search);
    expect(verifyLay(lay!, [...parts])).toEqual([]);
    expect(lay!.placements).toEqual(expect.arrayContaining(pins));
  });

  it('are refused on a roll that is too short: what, by how much, and what to do', async () => {
    // One set and a half fill a roll that has room for less than two.
    const pins = known.placements.filter(({ x }) => x < known.length / 4);
    const short = { ...rollOf('one', 0.85 * known.length), pins };
    const said = await refusalOf(layOnRolls(parts, known.material, [short], rules, search));
    expect(said).toContain('the lay of carpet-loop-graphite needs');
    expect(said).toMatch(/\d mm are missing/);
  });

  it('are refused where the roll of the half has no room for the rest and no other has', async () => {
    const pins = known.placements.filter(
      ({ label, x }) => label.endsWith('1041') && x < known.length / 2,
    );
    const rolls = [{ ...rollOf('one', 0.9 * known.length), pins }, rollOf('two', 3000)];
    const said = await refusalOf(layOnRolls(parts, known.material, rolls, rules, search));
    expect(said).toContain('(two, one) have no room for set 1 of order 1043: about');
    expect(said).toMatch(/about \d+\.\d\d m of roll are missing/);
  });
});
