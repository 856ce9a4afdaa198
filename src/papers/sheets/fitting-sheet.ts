import { titleOf } from '../../pattern/choice.ts';
import { driverSide } from '../../pattern/words.ts';
import type { Paper } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import type { FittingPlan } from '../pictures/fitting-picture.ts';
import { planPicture } from '../pictures/fitting-picture.ts';
import { customerRows, noteLines } from '../facts/order-words.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { footOf } from '../facts/run-facts.ts';

/** The fitting sheet, for the customer: where each part of an order goes, and what goes under what. */
export function fittingSheet(facts: OrderFacts, plan: FittingPlan, run: RunFacts): Paper {
  const { order, set, others } = facts;
  const own = customerRows(facts);
  const note = order.customerNote;
  const faint = others.length === 0 ? '' : ' What is dotted is not in this order.';
  const rows = plan.parts.map(({ number, part, words }) => [
    String(number),
    part.name,
    part.side ?? 'centre',
    words.join(' '),
  ]);
  const columns = [
    { head: 'No.', figures: true, share: 0.35 },
    { head: 'Part', share: 1.4 },
    { head: 'Side', share: 0.6 },
    { head: 'How it goes in', share: 4 },
  ] as const;
  return {
    title: `Fitting: ${titleOf(set)}`,
    subtitle: `Order ${order.order}, ${order.hand}: driver on the ${driverSide(order.hand)}. Left and right as seen sitting in the vehicle. Heel pads are crosshatched.${faint}`,
    foot: `${footOf(run)}, order ${order.order}`,
    blocks: [
      ...(own.length === 0 ? [] : [{ kind: 'facts', rows: own } as const]),
      ...(note === undefined
        ? []
        : [{ kind: 'frame', title: 'Please note', items: noteLines(note) } as const]),
      ...(plan.caution === null ? [] : [{ kind: 'text', text: plan.caution } as const]),
      { kind: 'picture', svg: planPicture(plan) },
      ...(rows.length === 0
        ? [{ kind: 'text', text: 'No carpet part is in this order.' } as const]
        : [heading('Part by part'), { kind: 'table', columns, rows } as const]),
    ],
  };
}
