import { describe, expect, it } from 'vitest';
import { variedCutters } from '../knife/sample-cutters.ts';
import { goodRun, rulesFound } from './good-run.ts';
import { breaks, brokenProgram } from './seeded-faults.ts';
import { tries } from '../support/thorough.ts';

const names = ['loop.nc', 'loop.bite-1.nc', 'loop.bite-2.nc'];
// PILEWAY_THOROUGH=20 tries some 5500 faults.
const seeds = Array.from({ length: tries(1, 1) }, (_, i) => i + 1);
const runs = variedCutters.map((cutter) => ({ name: cutter.name, cutter, files: goodRun(cutter) }));

/** The program that is broken with the nth seed. */
function programOf(n: number): string {
  return names[n % names.length]!;
}

// Good programs broken at random places in each of these ways: whatever changes what the machine does
// by more than the cloth would show, the proof must find.
describe.each(runs)('a program for $name that is broken', ({ cutter, files }) => {
  it('was good before', () => {
    expect(rulesFound(files)).toEqual([]);
  });

  it.each(Object.keys(breaks))('by %s is found out', { timeout: 600_000 }, (way) => {
    for (const [i, seed] of seeds.entries()) {
      const name = programOf(i);
      const text = brokenProgram(files[name]!, way, cutter, seed);
      // Some cutters' programs have nothing that could be broken in this way; how many faults there are is counted below.
      expect(text === undefined || text !== files[name]).toBe(true);
      if (text === undefined) continue;
      expect(rulesFound({ ...files, [name]: text }), `${name}, seed ${seed}`).not.toEqual([]);
    }
  });
});

it('are a hundred faults and more that the proof is tried on with each seed', () => {
  for (const [i, seed] of seeds.entries()) {
    const broken = runs.flatMap(({ cutter, files }) =>
      Object.keys(breaks).map((way) => brokenProgram(files[programOf(i)]!, way, cutter, seed)),
    );
    expect(broken.filter((text) => text !== undefined).length).toBeGreaterThan(100);
  }
});
