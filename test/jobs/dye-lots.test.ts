import { describe, expect, it } from 'vitest';
import type { Part } from '../../src/handing/part.ts';
import { ordersOfSeveralLots } from '../../src/jobs/dye-lots.ts';
import type { Lay } from '../../src/lay/lay.ts';

function lay(dyeLot: string | undefined, colour: string, ...labels: readonly string[]): Lay {
  return {
    material: 'loop',
    roll: {
      width: 2000,
      selvedge: 0,
      startMargin: 0,
      length: 9000,
      colour,
      ...(dyeLot === undefined ? {} : { dyeLot }),
    },
    rules: { turns: 'any', gap: 0, biteLength: 3000 },
    placements: labels.map((label) => ({ label, x: 0, y: 0, rotation: 0 })),
    length: 0,
    density: 0,
  };
}

function ordersTold(...lays: readonly Lay[]): string[] {
  const parts = lays.flatMap(({ placements }) =>
    placements.map(({ label }) => ({ label, order: label.split('.')[2] }) as Part),
  );
  return ordersOfSeveralLots(lays, parts).map(({ message }) => /order "(.+?)"/.exec(message)![1]!);
}

describe('sets of one order from several dye lots', () => {
  it('are told, once for the order', () => {
    expect(
      ordersTold(
        lay('S1', 'sand', 'mat.1.A', 'floor.1.A', 'mat.1.B'),
        lay('S2', 'sand', 'mat.2.A'),
      ),
    ).toEqual(['A']);
  });

  it('are none where lots are the same, not known, or of other colours', () => {
    expect(ordersTold(lay('S1', 'sand', 'mat.1.A'), lay('S1', 'sand', 'mat.2.A'))).toEqual([]);
    expect(ordersTold(lay('S1', 'sand', 'mat.1.A'), lay(undefined, 'sand', 'mat.2.A'))).toEqual([]);
    expect(ordersTold(lay('S1', 'sand', 'mat.1.A'), lay('B7', 'black', 'pad.1.A'))).toEqual([]);
  });
});
