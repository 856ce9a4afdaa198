import { alikeFindings } from '../../base/findings.ts';
import { layName } from '../../lay/lay.ts';
import { tellsMore } from './order-words.ts';
import type { MaterialFacts, OrderFacts, RunFacts } from './run-facts.ts';
import { sharedLays } from './run-facts.ts';
import { counted, duration, metresUp, percent, shownNames } from '../../base/wording.ts';

/** The result of a run in about ten lines, for the terminal. */
export function summaryLines(facts: RunFacts): string[] {
  const { orders, materials, findings, cutter } = facts;
  const hands = orders
    .map(
      ({ order, others }) =>
        `${others.length === 0 ? '' : 'part of '}${order.quantity} ${order.hand}`,
    )
    .join(' + ');
  const parts = materials.reduce((sum, one) => sum + one.parts.length, 0);
  const minutes = materials.reduce((sum, { knife }) => sum + knife.minutes, 0);
  // As they are told: what is so in several places once.
  const told = alikeFindings(findings);
  const count = (severity: string): number =>
    told.filter(([one]) => one.severity === severity).length;
  return [
    `run       ${facts.run}: ${facts.title}`,
    `orders    ${counted(orders.length, 'order')}, ${setsInWords(orders)} (${hands}), ${counted(parts, 'part')}`,
    ...materials.map(materialLine),
    ...shareLines(facts),
    `cutting   ${duration(minutes)} on ${cutter.name} (estimate)`,
    `findings  ${counted(count('warning'), 'warning')}, ${counted(count('note'), 'note')}`,
    'proof     passed: drawings and programs were read back and agree with the lay',
  ];
}

/** How many sets orders are of; what is part of a set is no set: `3 sets and part of 1`. */
function setsInWords(orders: readonly OrderFacts[]): string {
  const sum = (some: readonly OrderFacts[]): number =>
    some.reduce((total, { order }) => total + order.quantity, 0);
  const whole = sum(orders.filter(({ others }) => others.length === 0));
  const inPart = sum(orders.filter(({ others }) => others.length > 0));
  if (inPart === 0) return counted(whole, 'set');
  return whole === 0
    ? `part of ${counted(inPart, 'set')}`
    : `${counted(whole, 'set')} and part of ${inPart}`;
}

/** Which orders share a roll, and what is due first, in short. Empty if no order says more than usual. */
function shareLines(facts: RunFacts): string[] {
  const { orders } = facts;
  if (!orders.some(tellsMore)) return [];
  const due = orders
    .flatMap(({ order }) => (order.due === undefined ? [] : [`${order.due} (${order.order})`]))
    .toSorted();
  return [
    ...sharedLays(facts).map(({ lay, orders: own }, i) => {
      return `${(i === 0 ? 'rolls' : '').padEnd(9)} ${layName(lay.lay)}: ${counted(own.length, 'order')}, ${shownNames(own)}`;
    }),
    ...(due.length === 0 ? [] : [`due       ${shownNames(due, 4)}`]),
  ];
}

function materialLine({ material, lay, parts, knife }: MaterialFacts): string {
  const needed = `${metresUp(lay.length)} of ${(lay.roll.width / 1000).toFixed(2)} m wide`;
  const cuts = `${counted(parts.length, 'part')}, ${counted(knife.bites, 'bite')}, ${(knife.cutLength / 1000).toFixed(1)} m cut`;
  return `${material.kind.padEnd(9)} ${layName(lay)}: ${needed}, density ${percent(lay.density)}, ${cuts}, ${duration(knife.minutes)}`;
}
