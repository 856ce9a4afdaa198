import { materialArea } from '../../lay/lay-parts.ts';
import type { Money } from '../../pattern/shop/price.ts';
import { moneyOf, priceOf, shareOut, sumOfMoney } from '../../pattern/shop/price.ts';
import type { MaterialFacts, RunFacts } from './run-facts.ts';
import { rollTitle } from './run-facts.ts';
import { colourWords, tapeTotals } from './tape-totals.ts';

/** Something that a run uses up, and the share of each order. */
export interface CostLine {
  readonly what: string;
  /** The unit of quantities, which are whole numbers: centimetres, or minutes of cutting. */
  readonly unit: 'cm' | 'min';
  readonly quantity: number;
  /** The price of a metre or an hour. null: no file names one. */
  readonly price: Money | null;
  readonly amount: Money | null;
  /** One share for each order. They add up to the whole exactly. */
  readonly shares: readonly { readonly quantity: number; readonly amount: Money | null }[];
}

export interface Cost {
  readonly lines: readonly CostLine[];
  /** For each order, one amount for each currency. */
  readonly orders: readonly (readonly Money[])[];
  readonly total: readonly Money[];
  /** The names of what has no price and so is in no sum. */
  readonly unpriced: readonly string[];
}

/**
 * What a run uses up and what it costs. Lengths are rounded up to whole cm and times to whole minutes, as
 * they are printed. Amounts are whole numbers of the currency's smallest unit. A lay is divided among its
 * orders by the area of their parts on it, tape by what each order needs.
 */
export function costOf(facts: RunFacts): Cost {
  const lines = [
    ...facts.materials.map((one) => rollLine(one, facts)),
    ...tapeLines(facts),
    ...facts.materials.map((one) => cuttingLine(one, facts)),
  ];
  const sum = (amounts: readonly (Money | null)[]): Money[] =>
    sumOfMoney(amounts.filter((amount) => amount !== null));
  return {
    lines,
    orders: facts.orders.map((_, i) => sum(lines.map(({ shares }) => shares[i]!.amount))),
    total: sum(lines.map(({ amount }) => amount)),
    unpriced: lines.filter(({ price }) => price === null).map(({ what }) => what),
  };
}

const perUnit = { cm: 100, min: 60 } as const;

function lineOf(
  what: string,
  unit: CostLine['unit'],
  quantity: number,
  price: string | undefined,
  weights: readonly number[],
): CostLine {
  const money = price === undefined ? null : moneyOf(price);
  const amount = money === null ? null : priceOf(money, quantity, perUnit[unit]);
  const quantities = shareOut(quantity, weights);
  const minors = amount === null ? [] : shareOut(amount.minor, weights);
  return {
    what,
    unit,
    quantity,
    price: money,
    amount,
    shares: quantities.map((own, i) => ({
      quantity: own,
      amount: amount === null ? null : { ...amount, minor: minors[i]! },
    })),
  };
}

function rollLine(one: MaterialFacts, facts: RunFacts): CostLine {
  return lineOf(
    rollTitle(one),
    'cm',
    wholeCm(one.lay.length),
    one.material.price,
    areasByOrder(one, facts),
  );
}

function cuttingLine(one: MaterialFacts, facts: RunFacts): CostLine {
  const minutes = Math.ceil(one.knife.minutes - 1e-9);
  return lineOf(
    `Cutting ${rollTitle(one)}`,
    'min',
    minutes,
    facts.cutter.price,
    areasByOrder(one, facts),
  );
}

/** The area of the parts on a lay for each order, in whole mm2. */
function areasByOrder({ parts }: MaterialFacts, { orders }: RunFacts): number[] {
  const areas = new Map<string, number>();
  for (const part of parts)
    areas.set(part.order, (areas.get(part.order) ?? 0) + materialArea(part));
  return orders.map(({ order }) => Math.round(areas.get(order.order) ?? 0));
}

/** The lines for tape. Each order's length is rounded up by itself, and the whole is their sum. */
function tapeLines({ orders }: RunFacts): CostLine[] {
  const byOrder = orders.map((order) => tapeTotals([order]));
  return tapeTotals(orders).map(({ tape, colour, price }) => {
    const own = byOrder.map((totals) =>
      totals
        .filter((total) => total.tape === tape && total.colour === colour)
        .reduce((sum, { total }) => sum + wholeCm(total), 0),
    );
    const quantity = own.reduce((a, b) => a + b, 0);
    return lineOf(`${tape}, ${colourWords(colour)}`, 'cm', quantity, price ?? undefined, own);
  });
}

/** A length in whole cm, rounded up. */
function wholeCm(mm: number): number {
  return Math.ceil(mm / 10 - 1e-9);
}
