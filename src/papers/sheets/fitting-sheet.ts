import { titleOf } from '../../pattern/choice.ts';
import { driverSide } from '../../pattern/words.ts';
import type { Paper } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import type { FittingPlan } from '../pictures/fitting-picture.ts';
import { planPicture } from '../pictures/fitting-picture.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { footOf } from '../facts/run-facts.ts';

/** The fitting sheet, for the customer: where each part of an order goes, and what goes under what. */
export function fittingSheet({ order, set }: OrderFacts, plan: FittingPlan, run: RunFacts): Paper {
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
    subtitle: `Order ${order.order}, ${order.hand}: driver on the ${driverSide(order.hand)}. Left and right as seen sitting in the vehicle. Heel pads are crosshatched.`,
    foot: `${footOf(run)}, order ${order.order}`,
    blocks: [
      { kind: 'picture', svg: planPicture(plan) },
      heading('Part by part'),
      { kind: 'table', columns, rows },
    ],
  };
}
