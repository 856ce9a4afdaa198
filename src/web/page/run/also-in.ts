import type { RunCard } from '../../api/shop.ts';

/**
 * Orders of a run that stand in another run too, where neither is cut nor put away: somebody might cut them twice. In
 * sentences, one for each other run.
 */
export function alsoIn(run: RunCard, runs: readonly RunCard[]): string[] {
  if (!isOpen(run)) return [];
  const own = new Set((run.orders ?? []).map(orderKey));
  return runs.flatMap((other) => {
    if (other.name === run.name || !isOpen(other)) return [];
    const shared = (other.orders ?? []).filter((order) => own.has(orderKey(order)));
    const names = shared.map(({ order }) => order).join(', ');
    return shared.length === 0
      ? []
      : [`${shared.length === 1 ? 'Order' : 'Orders'} ${names}: also in ${other.title}. Cut once.`];
  });
}

function isOpen({ isArchived, cutting }: RunCard): boolean {
  return !isArchived && cutting.state !== 'cut';
}

/** A copy of a run that is made for other vehicles has other orders; the same name, set and hand are the same order. */
function orderKey({ order, set, hand }: NonNullable<RunCard['orders']>[number]): string {
  return `${order}\n${set}\n${hand}`;
}
