import type { SetChoice } from '../pattern/choice.ts';
import type { Use } from '../pattern/words.ts';
import { uses } from '../pattern/words.ts';
import type { Order } from './order.ts';

/** What an order chooses for a use; empty if it says nothing of it. */
export function chosenFor(
  order: Pick<Order, Use>,
  use: Use,
): { readonly material?: string; readonly colour?: string } {
  const chosen = order[use];
  return typeof chosen === 'object' ? chosen : {};
}

/** What an order chooses of its set before anything is made of it. */
export function choiceOf(order: Pick<Order, Use | 'edge' | 'options'>): SetChoice {
  const materials = uses.flatMap((use): [Use, string][] => {
    const { material } = chosenFor(order, use);
    return material === undefined ? [] : [[use, material]];
  });
  const { edge, options } = order;
  return {
    ...(materials.length === 0 ? {} : { materials: Object.fromEntries(materials) }),
    ...(edge?.finish === undefined ? {} : { binding: edge.finish }),
    ...(options === undefined ? {} : { options }),
  };
}

/** The colour in which edges are finished. undefined: the order does not say it. */
export function edgeColourOf({
  edge,
  binding,
}: Pick<Order, 'edge' | 'binding'>): string | undefined {
  return edge?.colour ?? binding;
}
