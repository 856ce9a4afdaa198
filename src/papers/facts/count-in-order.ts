/** Which of the parts of its order a part is, over all sets. */
export interface CountInOrder {
  /** From 1. */
  readonly number: number;
  readonly of: number;
}

/** The place of each part in its order, by labels. Parts of an order stand set by set, as the set has them. */
export function placesInOrders(
  parts: readonly { readonly label: string; readonly order: string }[],
): Map<string, CountInOrder> {
  const counts = new Map<string, number>();
  const counted = parts.map(({ label, order }) => {
    const number = (counts.get(order) ?? 0) + 1;
    counts.set(order, number);
    return { label, order, number };
  });
  return new Map(
    counted.map(({ label, order, number }) => [label, { number, of: counts.get(order)! }]),
  );
}
