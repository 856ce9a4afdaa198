import { layName } from '../../lay/lay.ts';
import { tellsMore } from './order-words.ts';
import type { MaterialFacts, RunFacts } from './run-facts.ts';
import { ordersOn } from './run-facts.ts';
import { counted, duration, metresUp, percent, shownNames } from '../../base/wording.ts';

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
    ...shareLines(facts),
    `cutting   ${duration(minutes)} on ${cutter.name} (estimate)`,
    `findings  ${counted(count('warning'), 'warning')}, ${counted(count('note'), 'note')}`,
    'proof     passed: drawings and programs were read back and agree with the lay',
  ];
}

/** Which orders share a roll, and what is due first, in short. Empty if no order says more than usual. */
function shareLines({ orders, materials }: RunFacts): string[] {
  if (!orders.some(tellsMore)) return [];
  const due = orders
    .flatMap(({ order }) => (order.due === undefined ? [] : [`${order.due} (${order.order})`]))
    .toSorted();
  return [
    ...materials.map((one, i) => {
      const own = ordersOn(one, orders).map(({ order }) => order.order);
      return `${(i === 0 ? 'rolls' : '').padEnd(9)} ${layName(one.lay)}: ${counted(own.length, 'order')}, ${shownNames(own)}`;
    }),
    ...(due.length === 0 ? [] : [`due       ${shownNames(due, 4)}`]),
  ];
}

function materialLine({ material, lay, parts, knife }: MaterialFacts): string {
  const needed = `${metresUp(lay.length)} of ${(lay.roll.width / 1000).toFixed(2)} m wide`;
  const cuts = `${counted(parts.length, 'part')}, ${counted(knife.bites, 'bite')}, ${(knife.cutLength / 1000).toFixed(1)} m cut`;
  return `${material.kind.padEnd(9)} ${layName(lay)}: ${needed}, density ${percent(lay.density)}, ${cuts}, ${duration(knife.minutes)}`;
}
