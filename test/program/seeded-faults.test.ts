import { describe, expect, it } from 'vitest';
import { variedCutters } from '../knife/sample-cutters.ts';
import { goodRun, rulesFound } from './good-run.ts';
import { breaks, brokenProgram } from './seeded-faults.ts';

const names = ['loop.nc', 'loop.bite-1.nc', 'loop.bite-2.nc'];
// PILEWAY_FAULT_SEEDS=40 tries some 5500.
const seeds = Array.from(
  { length: Number(process.env['PILEWAY_FAULT_SEEDS'] ?? 2) },
  (_, i) => i + 1,
);

// Good programs broken at random places in each of these ways: whatever changes what the machine does
// by more than the cloth would show, the proof must find.
describe.each(variedCutters)('a program for $name that is broken', (cutter) => {
  const files = goodRun(cutter);

  it('was good before', () => {
    expect(rulesFound(files)).toEqual([]);
  });

  it.each(Object.keys(breaks))('by %s is found out', { timeout: 600_000 }, (way) => {
    for (const [i, seed] of seeds.entries()) {
      const name = names[i % names.length]!;
      const text = brokenProgram(files[name]!, way, cutter, seed);
      if (text === undefined) continue;
      expect(rulesFound({ ...files, [name]: text }), `${name}, seed ${seed}`).not.toEqual([]);
    }
  });
});

it('are 200 faults and more that the proof is tried on', () => {
  const tried = variedCutters.flatMap((cutter) => {
    const files = goodRun(cutter);
    return Object.keys(breaks).flatMap((way) =>
      seeds.map((seed, i) => brokenProgram(files[names[i % names.length]!]!, way, cutter, seed)),
    );
  });
  expect(tried.filter((text) => text !== undefined).length).toBeGreaterThan(200);
});
