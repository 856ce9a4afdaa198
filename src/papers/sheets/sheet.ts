import type { Finding } from '../../base/findings.ts';
import { alikeFindings, wordAlike, worstFirst } from '../../base/findings.ts';
import { edgeColourOf } from '../../handing/order-choices.ts';
import type { Part } from '../../handing/part.ts';
import type { Paper, PaperBlock, PaperTable } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import { clothWords, edgeWords, extentWords, tellsMore } from '../facts/order-words.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { footOf, lengthNotSaid, rollTitle, sharedLays } from '../facts/run-facts.ts';
import type { SheetFacts } from './roll-section.ts';
import { everyRoll, materialSection } from './roll-section.ts';
import { duration, percent } from '../../base/wording.ts';

/**
 * The run sheet for the operator, in the order of work: what is cut, what it takes, cautions and
 * findings; then, for each roll, how to load it, the lay bite by bite, and the order of cutting.
 */
export function runSheet(facts: RunFacts): Paper {
  return {
    title: `Run sheet: ${facts.title}`,
    subtitle: `Run ${facts.run} on ${facts.cutter.title}. Fingerprint ${facts.fingerprint}.`,
    foot: footOf(facts),
    blocks: [
      heading('What is cut'),
      ordersTable(facts.orders),
      ...orderBlocks(facts),
      heading('What it takes'),
      loadTable(facts),
      everyRoll,
      cautions,
      ...findingBlocks(facts.findings),
      ...facts.materials.map((one) => materialSection(one, facts)),
    ],
  };
}

function ordersTable(orders: readonly OrderFacts[]): PaperTable {
  const rows = orders.map((one) => {
    const { order, set } = one;
    return [
      order.order,
      set.content.title,
      order.hand,
      String(order.quantity),
      optionWords(
        one,
        'pad',
        { driver: 'driver’s side', both: 'both sides', none: 'none' }[order.heelPads],
      ),
      optionWords(one, 'board', order.boards ? 'yes' : 'no'),
      optionWords(one, 'underlay', order.underlay ? 'yes' : 'no'),
      set.binding === null ? 'set has none' : (edgeColourOf(order) ?? 'not said'),
    ];
  });
  const columns = [
    { head: 'Order' },
    { head: 'Set', share: 2.4 },
    { head: 'Hand', share: 0.7 },
    { head: 'Sets', figures: true, share: 0.6 },
    { head: 'Heel pads', share: 1.2 },
    { head: 'Boards' },
    { head: 'Underlay' },
    { head: 'Binding', share: 1.2 },
  ] as const;
  return { kind: 'table', columns, rows };
}

/** An option of an order in words: whether its set has such a thing, and the order a part of that kind. */
function optionWords(
  { set: { content }, parts, others }: OrderFacts,
  option: 'pad' | 'board' | 'underlay',
  words: string,
): string {
  const has = Object.values(content.pieces).some((piece) => piece[option] !== undefined);
  if (!has) return 'set has none';
  const isOf = ({ kind }: Part): boolean => kind === option;
  return others.some(isOf) && !parts.some(isOf) ? 'none ordered' : words;
}

/** What each order is of and for whom, and which orders share a roll. Empty if no order says it. */
function orderBlocks(facts: RunFacts): PaperBlock[] {
  const { orders } = facts;
  if (!orders.some(tellsMore)) return [];
  const what: PaperTable = {
    kind: 'table',
    columns: [
      { head: 'Order', share: 0.8 },
      { head: 'Carpet', share: 2 },
      { head: 'Edges', share: 1.7 },
      { head: 'Parts', share: 1.2 },
      { head: 'Customer', share: 1.1 },
      { head: 'Due', share: 0.9, figures: true },
    ],
    rows: orders.map((one) => [
      one.order.order,
      clothWords(one, 'piece') || 'none',
      edgeWords(one) || 'none',
      extentWords(one),
      one.order.customer ?? '',
      one.order.due ?? '',
    ]),
  };
  const shared: PaperTable = {
    kind: 'table',
    columns: [
      { head: 'Roll', share: 2.4 },
      { head: 'Orders', share: 2.4 },
      { head: 'Due first', figures: true },
    ],
    rows: sharedLays(facts).map(({ lay, orders: on, due }) => [
      rollTitle(lay),
      on.join(', '),
      due ?? '',
    ]),
  };
  return [
    heading('What each order is of', 3),
    what,
    heading('Which orders share a roll', 3),
    shared,
  ];
}

export function loadTable({ materials, lengths }: SheetFacts): PaperTable {
  const rows = materials.map((facts) => {
    const { lay, parts, knife } = facts;
    return [
      rollTitle(facts),
      lengths.metresUp(lay.length),
      Number.isFinite(lay.roll.length) ? lengths.metresDown(lay.roll.length) : lengthNotSaid,
      percent(lay.density),
      String(parts.length),
      String(knife.bites),
      duration(knife.minutes),
    ];
  });
  const columns = [
    { head: 'Material', share: 3.3 },
    { head: 'Length needed', figures: true },
    { head: 'On the roll', figures: true, share: 1.3 },
    { head: 'Density', figures: true },
    { head: 'Parts', figures: true, share: 0.6 },
    { head: 'Bites', figures: true, share: 0.6 },
    { head: 'Time (estimate)', figures: true, share: 1.2 },
  ] as const;
  return { kind: 'table', columns, rows };
}

export const cautions: PaperBlock = {
  kind: 'frame',
  title: 'Before you start',
  items: [
    'Run the dry program first, with the knife up, and watch that it stays on the roll.',
    'A cutting file is no safety function, and a programmed stop is no emergency stop.',
    'Keep hands, hair and loose clothing away from gantry and feed rollers; guards closed.',
    'Stop and isolate the machine before you touch the blade. Gloves on; old blades into a sharps box.',
    'Knife up before every feed. Clear lint and dust: they burn. Two people lift a heavy roll.',
    'The machine maker’s manual, local rules and a competent person come before this sheet.',
  ],
};

export function findingBlocks(findings: readonly Finding[]): PaperBlock[] {
  if (findings.length === 0) return [heading('Findings'), { kind: 'text', text: 'None.' }];
  const items = alikeFindings(worstFirst(findings)).map(wordAlike);
  return [heading('Findings'), { kind: 'list', items }];
}
