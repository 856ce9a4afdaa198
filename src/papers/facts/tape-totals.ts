import type { TapeFacts } from '../../handing/bench-facts.ts';
import { edgeColourOf } from '../../handing/order-choices.ts';
import type { FinishKind } from '../../pattern/shop/binding.ts';
import type { OrderFacts } from './run-facts.ts';

/** What one finish in one colour takes for whole orders, mm. */
export interface TapeTotal extends Omit<TapeFacts, 'runs' | 'pieces'> {
  /** The title of the finish. */
  readonly tape: string;
  readonly kind: FinishKind;
  /** null: the order names none. */
  readonly colour: string | null;
  readonly runs: number;
  /** The price of a metre. null: its file names none. */
  readonly price: string | null;
}

/** What all sets of the orders need, by finish and colour, in the order in which these first occur. */
export function tapeTotals(orders: readonly OrderFacts[]): TapeTotal[] {
  const totals = new Map<string, TapeTotal>();
  for (const { order, set, bench } of orders) {
    const { binding } = set;
    if (binding === null) continue;
    const key = JSON.stringify([binding.name, edgeColourOf(order)]);
    for (const { tape } of bench.values()) {
      if (tape === null) continue;
      const before = totals.get(key);
      const more = (of: Exclude<keyof TapeFacts, 'pieces'>): number =>
        (before?.[of] ?? 0) + order.quantity * tape[of];
      totals.set(key, {
        tape: binding.title,
        kind: binding.kind,
        colour: edgeColourOf(order) ?? null,
        length: more('length'),
        runs: more('runs'),
        joining: more('joining'),
        extra: more('extra'),
        total: more('total'),
        price: binding.price ?? null,
      });
    }
  }
  return [...totals.values()];
}

/** The colour in words, also if none is named. */
export function colourWords(colour: string | null | undefined): string {
  return colour ?? 'colour not said';
}
