import { counted } from '../../base/wording.ts';
import type { FittingGuide } from './fitting-guide.ts';
import { customerRows } from './order-words.ts';
import type { OrderFacts } from './run-facts.ts';

/** What must be right before anybody drives. */
export const beforeDriving = {
  title: 'Before you drive',
  items: [
    'The vehicle maker’s manual comes first. Where you are not sure, let somebody do it who knows this work.',
    'No mat can slide. Engine off: each pedal goes right down and comes back, and nothing touches it on its way.',
    'Carpet keeps clear of all that gets hot and all that moves: heater, exhaust, seat runners, belts, levers.',
    'Seats and belts that you took out are put back as the manual says before anybody rides.',
  ],
} as const;

/** How many sets an order has, as a sentence; empty for one. */
export function howMany({ order }: Pick<OrderFacts, 'order'>): string {
  return order.quantity === 1 ? '' : ` ${counted(order.quantity, 'set')}, all alike.`;
}

/** What an order is of, in one text; none if there is nothing new to say. */
export function wordRows(facts: OrderFacts): string[] {
  const rows = customerRows(facts).map(([name, value]) => `${name}: ${value}.`);
  return rows.length === 0 ? [] : [rows.join(' ')];
}

/** What stands on the labels of a thing: that of a pad or board is gone once it is fixed to its carpet. */
function labelsOf(parts: FittingGuide['steps'][number]['parts']): string[] {
  const carpets = parts.filter(({ kind }) => kind === 'piece');
  return (carpets.length === 0 ? parts : carpets).map(({ name }) => name);
}

/** The steps as rows: number, what it is, the labels of its parts, how it goes in. */
export function guideRows({ steps }: FittingGuide): [string, string, string, string][] {
  return steps.map(({ number, title, parts, words }) => [
    String(number),
    title,
    labelsOf(parts).join(', '),
    words.join(' '),
  ]);
}

/** What is done in the vehicle, as rows: letters, part, what is done and how large, where. */
export function siteRows({ jobs }: FittingGuide): [string, string, string, string][] {
  return jobs.map(({ where, what, size, places }) => [
    places.map(({ letter }) => letter).join(', '),
    where,
    size === '' ? what : `${what} (${size})`,
    places
      .map(({ letter, words }) => (places.length === 1 ? words : `${letter}: ${words}`))
      .join('; '),
  ]);
}
