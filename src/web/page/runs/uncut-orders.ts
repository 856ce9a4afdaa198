import type { Order } from '../../../handing/order.ts';
import type { RunCard } from '../../api/shop.ts';

/** An order that nobody has begun to cut, and the run that it is in. */
export interface UncutOrder {
  readonly run: string;
  /** What the run is called. */
  readonly title: string;
  readonly order: Order;
}

/**
 * The orders that are not cut yet, those that are due first first; and the titles of runs whose orders cannot be moved
 * here because they are kept in a CSV.
 */
export function uncutOrders(runs: readonly RunCard[]): {
  readonly orders: readonly UncutOrder[];
  readonly kept: readonly string[];
} {
  const open = runs.filter(
    ({ isArchived, cutting, orders }) => !isArchived && cutting.state === 'none' && orders !== null,
  );
  const movable = open.filter(({ hasOrdersFile }) => !hasOrdersFile);
  const day = ({ order }: UncutOrder): string => order.due ?? 'none';
  return {
    orders: movable
      .flatMap(({ name, title, orders }) =>
        orders!.map((order): UncutOrder => ({ run: name, title, order })),
      )
      .toSorted((a, b) => Number(day(a) > day(b)) - Number(day(a) < day(b))),
    kept: open.filter(({ hasOrdersFile }) => hasOrdersFile).map(({ title }) => title),
  };
}
