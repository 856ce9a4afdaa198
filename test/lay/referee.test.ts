import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flatten } from '../../src/geometry/paths/flatten.ts';
import { polyline } from '../../src/geometry/paths/path.ts';
import type { Part } from '../../src/handing/part.ts';
import { layParts } from '../../src/lay/lay-parts.ts';
import type { Lay, LayRules } from '../../src/lay/lay.ts';
import { material, partOf, roll, someParts } from './fixtures.ts';
import { refereeVerdict, shapely } from './shapely.ts';

describe.skipIf(shapely.missing)(`shapely as a referee${shapely.note}`, () => {
  it('finds the gap kept, no overlap, the same bounds and the same density', async () => {
    const parts = fc
      .sample(someParts, { numRuns: 6, seed: 11 })
      .flatMap((some, i) => some.map((part) => ({ ...part, label: `${i}.${part.label}` })));
    const rules: LayRules = { turns: 'two-way', gap: 5, biteLength: Infinity };
    const lay = await layParts(parts, material, roll, rules, { seed: 1, limit: { rounds: 5 } });
    const { area, unitedArea, leastDistance, bounds } = refereeVerdict(refereeParts(lay, parts));
    expect(leastDistance).toBeGreaterThan(5 - 1e-6);
    // What flattening and growing leave free at the closest place of all is far below a tenth of a mm.
    expect(leastDistance).toBeLessThan(5.13);
    expect(Math.abs(unitedArea - area)).toBeLessThan(1e-3);
    expect(bounds[0]).toBeGreaterThan(roll.startMargin - 1e-3);
    expect(bounds[1]).toBeGreaterThan(roll.selvedge - 1e-3);
    expect(bounds[2]).toBeCloseTo(lay.length, 2);
    expect(bounds[3]).toBeLessThan(roll.width - roll.selvedge + 1e-3);
    expect(area / (lay.length * 1950)).toBeCloseTo(lay.density, 4);
  });
});

/** Chords on the material's side within a hundredth of a mm. */
function refereeParts({ placements }: Lay, parts: readonly Part[]) {
  return placements.map(({ label, x, y, rotation }) => {
    const { cut, inner } = parts.find((part) => part.label === label)!;
    const rings = [
      flatten(cut, 0.001, 'inside'),
      ...inner.map(({ path }) => flatten(path, 0.001, 'outside')),
    ].map((points) => points.map((p) => [p.x, p.y] as const));
    return { rings, x, y, rotation };
  });
}

interface Instance {
  readonly stripWidth: number;
  readonly pieces: readonly {
    readonly id: string;
    readonly demand: number;
    readonly outline: readonly (readonly [number, number])[];
  }[];
}

const folder = join(import.meta.dirname, '../data/instances');

describe.skipIf(shapely.missing)(
  `published instances, judged by their own checker${shapely.note}`,
  () => {
    // Both allow half turns, as the folder's README says.
    it.each(['shirts', 'albano'])('%s', async (name) => {
      const instance = JSON.parse(readFileSync(join(folder, `${name}.json`), 'utf8')) as Instance;
      const strip = { width: instance.stripWidth, selvedge: 0, startMargin: 0, length: Infinity };
      const rules: LayRules = { turns: 'two-way', gap: 0, biteLength: Infinity };
      const search = { seed: 1, limit: { rounds: 30 } };
      const lay = await layParts(partsOf(instance), material, strip, rules, search);
      const verdict = check(instance, lay);
      expect(verdict.errors).toEqual([]);
      expect(verdict.valid).toBe(true);
      expect(verdict.density).toBeCloseTo(lay.density, 9);
      expect(verdict.density).toBeGreaterThan(0.6);
    });
  },
);

function partsOf({ pieces }: Instance): Part[] {
  return pieces.flatMap(({ id, demand, outline }) => {
    const cut = polyline(
      outline.map(([x, y]) => ({ x, y })),
      true,
    );
    return Array.from({ length: demand }, (_, i) => partOf(`${id}.${i}`, cut, [], { pileDeg: 0 }));
  });
}

/** What the checker says that lies beside the instances. */
function check(instance: Instance, { length, placements }: Lay) {
  const script = `
import json, sys
sys.dont_write_bytecode = True
sys.path.insert(0, sys.argv[1])
from check_layout import check
print(json.dumps(check(*json.load(sys.stdin))))`;
  const named = placements.map((one) => ({ ...one, id: one.label.split('.')[0] }));
  return shapely.ask(script, [instance, { length, placements: named }], folder) as {
    readonly valid: boolean;
    readonly density: number;
    readonly errors: readonly string[];
  };
}
