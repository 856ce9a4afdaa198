import { layName } from '../../lay/lay.ts';
import type { MaterialFacts, RunFacts } from './run-facts.ts';
import { counted, duration, metresUp, percent } from '../../base/wording.ts';

/** The result of a run in about ten lines, for the terminal. */
export function summaryLines(facts: RunFacts): string[] {
  const { orders, materials, findings, cutter } = facts;
  const sets = orders.reduce((sum, { order }) => sum + order.quantity, 0);
  const hands = orders.map(({ order }) => `${order.quantity} ${order.hand}`).join(' + ');
  const parts = materials.reduce((sum, one) => sum + one.parts.length, 0);
  const minutes = materials.reduce((sum, { knife }) => sum + knife.minutes, 0);
  const count = (severity: string): number =>
    findings.filter((f) => f.severity === severity).length;
  return [
    `run       ${facts.run}: ${facts.title}`,
    `orders    ${counted(orders.length, 'order')}, ${counted(sets, 'set')} (${hands}), ${counted(parts, 'part')}`,
    ...materials.map(materialLine),
    `cutting   ${duration(minutes)} on ${cutter.name} (estimate)`,
    `findings  ${counted(count('warning'), 'warning')}, ${counted(count('note'), 'note')}`,
    'proof     passed: drawings and programs were read back and agree with the lay',
  ];
}

function materialLine({ material, lay, parts, knife }: MaterialFacts): string {
  const needed = `${metresUp(lay.length)} of ${(lay.roll.width / 1000).toFixed(2)} m wide`;
  const cuts = `${counted(parts.length, 'part')}, ${counted(knife.bites, 'bite')}, ${(knife.cutLength / 1000).toFixed(1)} m cut`;
  return `${material.kind.padEnd(9)} ${layName(lay)}: ${needed}, density ${percent(lay.density)}, ${cuts}, ${duration(knife.minutes)}`;
}
