import { titleOf } from '../../pattern/choice.ts';
import { driverSide } from '../../pattern/words.ts';
import type { Paper, PaperBlock } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import { roomBelow } from '../documents/document-pdf.ts';
import type { FittingGuide } from '../facts/fitting-guide.ts';
import { beforeDriving, guideRows, howMany, siteRows, wordRows } from '../facts/fitting-rows.ts';
import { noteLines } from '../facts/order-words.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { footOf } from '../facts/run-facts.ts';
import type { FittingPlan } from '../pictures/fitting/fitting-plan.ts';
import { planPicture } from '../pictures/fitting/fitting-plan.ts';

/**
 * The fitting sheet, for the customer: what the order is of and the plan on the first sheet, then the steps in the
 * order of laying, and what is done in the vehicle.
 */
export function fittingSheet(
  facts: OrderFacts,
  guide: FittingGuide,
  plan: FittingPlan,
  run: RunFacts,
): Paper {
  const first = beginning(facts, guide, run);
  return {
    ...first,
    blocks: [
      ...first.blocks,
      { kind: 'picture', svg: planPicture(plan) },
      { kind: 'frame', ...beforeDriving },
      ...stepBlocks(guide),
      ...siteBlocks(guide),
    ],
  };
}

/** No plan is lower than this, mm: rather it has a sheet of its own. */
const leastPlan = 150;

/** How high the plan may be so that it fills the first sheet, mm. */
export function planRoom(facts: OrderFacts, guide: FittingGuide, run: RunFacts): number {
  const { own, whole } = roomBelow(beginning(facts, guide, run));
  return own < leastPlan ? whole : own;
}

/** What stands above the plan. */
function beginning(facts: OrderFacts, { caution }: FittingGuide, run: RunFacts): Paper {
  const { order, set, others } = facts;
  const note = order.customerNote;
  const faint = others.length === 0 ? '' : ' What is dotted is not in this order.';
  return {
    title: `Fitting: ${titleOf(set)}`,
    subtitle: `Order ${order.order}, ${order.hand}: driver on the ${driverSide(order.hand)}.${howMany(facts)} Left and right as seen sitting in the vehicle.${faint}`,
    foot: `${footOf(run)}, order ${order.order}`,
    blocks: [
      ...wordRows(facts).map((text) => ({ kind: 'text', text }) as const),
      ...(note === undefined
        ? []
        : [{ kind: 'frame', title: 'Please note', items: noteLines(note) } as const]),
      ...(caution === null ? [] : [{ kind: 'text', text: caution } as const]),
    ],
  };
}

function stepBlocks(guide: FittingGuide): PaperBlock[] {
  if (guide.steps.length === 0) return [{ kind: 'text', text: 'No part is in this order.' }];
  const columns = [
    { head: '', figures: true, share: 0.42 },
    { head: 'What', share: 2.4 },
    { head: 'How it goes in', share: 5.5 },
    { head: 'Labels', share: 1.8, soft: true },
  ] as const;
  const rows = guideRows(guide).map(([number, what, labels, words]) => [
    number,
    what,
    words,
    labels,
  ]);
  return [heading('Step by step', 3), { kind: 'table', tight: true, columns, rows }];
}

function siteBlocks(guide: FittingGuide): PaperBlock[] {
  if (guide.jobs.length === 0) return [];
  const columns = [
    { head: '', share: 0.75 },
    { head: 'On', share: 1.9 },
    { head: 'Find it in the vehicle, then', share: 2.9 },
    { head: 'From its edges as they come to you, straight across and along', share: 5.1 },
  ] as const;
  return [
    heading('To do in the vehicle', 3),
    { kind: 'table', tight: true, columns, rows: siteRows(guide) },
  ];
}
