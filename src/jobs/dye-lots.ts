import type { Finding } from '../base/findings.ts';
import { listed } from '../base/wording.ts';
import type { Part } from '../handing/part.ts';
import type { Lay } from '../lay/lay.ts';
import { clothName } from '../pattern/shop/cloth.ts';

/**
 * Warnings for orders of several sets that are cut from several dye lots of one cloth: each set has one
 * shade, but the sets may differ.
 */
export function ordersOfSeveralLots(lays: readonly Lay[], parts: readonly Part[]): Finding[] {
  const orderOf = new Map(parts.map(({ label, order }) => [label, order]));
  const lots = new Map<string, { order: string; cloth: string; lots: Set<string> }>();
  for (const { material, roll, placements } of lays) {
    if (roll.dyeLot === undefined) continue;
    const cloth = clothName(material, roll.colour);
    for (const order of new Set(placements.map(({ label }) => orderOf.get(label)!))) {
      const key = `${order} ${cloth}`;
      const known = lots.get(key) ?? { order, cloth, lots: new Set() };
      lots.set(key, known);
      known.lots.add(roll.dyeLot);
    }
  }
  return [...lots.values()]
    .filter((one) => one.lots.size > 1)
    .map(({ order, cloth, lots: own }) => ({
      severity: 'warning',
      rule: 'several-dye-lots',
      message: `the sets of order "${order}" are cut from ${cloth} of the dye lots ${listed([...own])}: each set is of one shade, and they may differ.`,
      todo: 'Load a roll that has room for all of them, or ask the customer.',
      where: {},
    }));
}
