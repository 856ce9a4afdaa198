import type { BenchFacts } from '../../handing/bench-facts.ts';
import { isFixedOn } from '../../handing/fixing.ts';
import type { BenchRates } from '../../pattern/shop/bench.ts';
import type { FinishKind } from '../../pattern/shop/binding.ts';
import { clothOf, clothPrice } from '../../pattern/shop/cloth.ts';
import { materialArea } from '../../lay/lay-parts.ts';
import { restLength } from '../../lay/rest.ts';
import type { Money } from '../../pattern/shop/price.ts';
import { moneyOf, priceOf, shareOut, sumOfMoney, wordMoney } from '../../pattern/shop/price.ts';
import { finishWords } from './finish-words.ts';
import type { MaterialFacts, OrderFacts, RunFacts } from './run-facts.ts';
import { isOrdered, rollTitle } from './run-facts.ts';
import { colourWords, tapeTotals } from './tape-totals.ts';

/** Something that a run uses up, and the share of each order. */
export interface CostLine {
  readonly what: string;
  /** The unit of quantities, which are whole numbers: centimetres, seconds of work, or sets. */
  readonly unit: 'cm' | 's' | 'set';
  readonly quantity: number;
  /** The price of a metre, an hour or a set. null: no file names one. */
  readonly price: Money | null;
  readonly amount: Money | null;
  /** One share for each order. They add up to the whole exactly. */
  readonly shares: readonly { readonly quantity: number; readonly amount: Money | null }[];
}

/** What becomes of the cloth that is taken from a roll. */
interface ClothCost {
  readonly what: string;
  /** The two add up to what the roll's line costs. null: the cloth has no price. */
  readonly inParts: Money | null;
  readonly waste: Money | null;
  /** Whole mm left on the roll, as restLength has it. null: not known. */
  readonly left: number | null;
  /** What that would cost, by whole cm. null: not known. */
  readonly worth: Money | null;
}

export interface Cost {
  readonly lines: readonly CostLine[];
  /** For each order, one amount for each currency. */
  readonly orders: readonly (readonly Money[])[];
  readonly total: readonly Money[];
  /** The names of what has no price and so is in no sum. */
  readonly unpriced: readonly string[];
  /** One for each roll. It is in no sum: the lines have it already. */
  readonly cloth: readonly ClothCost[];
}

/**
 * What a run uses up and what it costs. Lengths are rounded up to whole cm and times to whole minutes, as
 * they are printed; shares of a time are whole seconds. Amounts are whole numbers of the currency's
 * smallest unit. A lay is divided among its orders by the area of their parts on it; tape, work at the
 * bench and options by what each order needs.
 *
 * Worked by hand: two orders on 3.21 m of a cloth at 38.50 EUR a metre, with 2.0 m2 and 1.0 m2 of parts.
 * 321 cm x 3850 / 100 = 12358.5, so 123.59 EUR. Shared 2 : 1 that is 8239.33 and 4119.67 cents, rounded
 * down 8239 and 4119; the cent that is left goes to the larger remainder: 82.39 and 41.20 EUR.
 * Binding 4.6 m at 4 minutes a metre is 18.4, so 19 minutes; at 32.00 EUR an hour 19 x 3200 / 60 =
 * 1013.33, so 10.13 EUR.
 */
export function costOf(facts: RunFacts): Cost {
  const lines = [
    ...facts.materials.map((one) => rollLine(one, facts)),
    ...tapeLines(facts),
    ...facts.materials.map((one) => cuttingLine(one, facts)),
    ...(facts.bench === null ? [] : benchLines(facts.orders, facts.bench)),
    ...optionLines(facts.orders),
  ];
  const sum = (amounts: readonly (Money | null)[]): Money[] =>
    sumOfMoney(amounts.filter((amount) => amount !== null));
  return {
    lines,
    orders: facts.orders.map((_, i) => sum(lines.map(({ shares }) => shares[i]!.amount))),
    total: sum(lines.map(({ amount }) => amount)),
    unpriced: lines.filter(({ price }) => price === null).map(({ what }) => what),
    cloth: facts.materials.map((one, i) => clothCost(one, lines[i]!)),
  };
}

const perUnit = { cm: 100, s: 3600, set: 1 } as const;

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
    clothPrice(clothOf(one.lay.roll, one.material)),
    areasByOrder(one, facts),
  );
}

/**
 * What of a roll's line lies in parts and what is waste, by area, and what is left on the roll. Holes are
 * waste.
 */
function clothCost({ lay: { roll, length }, parts }: MaterialFacts, line: CostLine): ClothCost {
  const { what, amount, price, quantity } = line;
  const used = Math.round(parts.reduce((sum, part) => sum + materialArea(part), 0));
  const taken = Math.round(quantity * 10 * roll.width);
  const left = restLength(roll, length);
  const worth =
    price === null || left === null ? null : priceOf(price, Math.floor(left / 10), perUnit.cm);
  if (amount === null) return { what, inParts: null, waste: null, left, worth };
  const [inParts, waste] = shareOut(amount.minor, [used, taken - used]);
  return {
    what,
    inParts: { ...amount, minor: inParts! },
    waste: { ...amount, minor: waste! },
    left,
    worth,
  };
}

/** The lines for work at the bench. Each order's minutes are rounded up, and the whole is their sum. */
function benchLines(orders: readonly OrderFacts[], { price, minutes }: BenchRates): CostLine[] {
  const finish = (kind: FinishKind, rate: number): BenchWork => ({
    what: finishWords({ kind }).work,
    minutesFor: ({ set, bench }) => {
      if ((set.binding?.kind ?? 'tape') !== kind) return 0;
      return (rate * sumOf(bench, ({ edges }) => edges.bound)) / 1000;
    },
  });
  const works: BenchWork[] = [
    finish('tape', minutes.bind),
    finish('overlock', minutes.overlock ?? minutes.bind),
    { what: 'sewing', minutesFor: (one) => (minutes.sew * sewnLength(one)) / 1000 },
    {
      what: 'heel pads',
      minutesFor: (one) =>
        minutes.pad *
        sumOf(
          one.bench,
          ({ pads }) =>
            pads.filter(
              ({ pad, fixed }) => isFixedOn('pad', fixed) && (pad === null || isOrdered(one, pad)),
            ).length,
        ),
    },
    {
      what: 'boards',
      minutesFor: (one) =>
        minutes.board *
        sumOf(
          one.bench,
          ({ under }) =>
            under.filter(
              ({ kind, part, fixed }) =>
                kind === 'board' && isFixedOn(kind, fixed) && isOrdered(one, part),
            ).length,
        ),
    },
  ];
  return works.flatMap(({ what, minutesFor }) => {
    const own = orders.map((one) => Math.ceil(one.order.quantity * minutesFor(one) - 1e-9));
    const quantity = 60 * own.reduce((a, b) => a + b, 0);
    return quantity === 0 ? [] : [lineOf(`Bench: ${what}`, 's', quantity, price, own)];
  });
}

/** A kind of work at the bench, and the minutes that it takes for one set of an order. */
interface BenchWork {
  readonly what: string;
  readonly minutesFor: (order: OrderFacts) => number;
}

function sumOf(bench: OrderFacts['bench'], of: (facts: BenchFacts) => number): number {
  return [...bench.values()].reduce((sum, facts) => sum + of(facts), 0);
}

/** Length of the seams whose two parts are ordered, each once, and of all stitch lines; mm for one set. */
function sewnLength(facts: OrderFacts): number {
  const seams = new Map<string, number>();
  for (const { seams: own } of facts.bench.values()) {
    for (const { letter, length, partner } of own) {
      if (isOrdered(facts, partner)) seams.set(letter, Math.max(length, seams.get(letter) ?? 0));
    }
  }
  const stitched = sumOf(facts.bench, ({ stitch }) => stitch);
  return [...seams.values()].reduce((sum, length) => sum + length, stitched);
}

/** The lines for options that have a price. An order of part of a set pays for none. */
function optionLines(orders: readonly OrderFacts[]): CostLine[] {
  const lines = new Map<string, { what: string; price: string; own: number[] }>();
  for (const [i, one] of orders.entries()) {
    if (one.others.length > 0) continue;
    for (const { name, words, price } of pricedOptions(one)) {
      const key = JSON.stringify([one.order.set, name, words]);
      const line = lines.get(key) ?? { what: `Option: ${words}`, price, own: orders.map(() => 0) };
      line.own[i] = one.order.quantity;
      lines.set(key, line);
    }
  }
  return [...lines.values()].map(({ what, price, own }) => {
    const sets = own.reduce((a, b) => a + b, 0);
    return lineOf(what, 'set', sets, price, own);
  });
}

/** The options of an order that have a price, which an order of the whole set pays. */
function pricedOptions({ set }: OrderFacts): { name: string; words: string; price: string }[] {
  return Object.entries(set.content.options ?? {}).flatMap(([name, { words, price }]) => {
    const value = set.options.get(name);
    const own =
      typeof price === 'object' ? price[String(value)] : value === true ? price : undefined;
    if (own === undefined) return [];
    return [{ name, words: typeof value === 'string' ? `${words}, ${value}` : words, price: own }];
  });
}

/** The options that an order of part of a set does not pay, each with its price. Empty for whole sets. */
export function unchargedOptions(one: OrderFacts): string[] {
  if (one.others.length === 0) return [];
  return pricedOptions(one).map(({ words, price }) => `${words} (${wordMoney(moneyOf(price))})`);
}

/** How long a roll is cut, in seconds: an estimate, rounded up to whole minutes. */
export function cuttingSeconds({ knife }: Pick<MaterialFacts, 'knife'>): number {
  return 60 * Math.ceil(knife.minutes - 1e-9);
}

function cuttingLine(one: MaterialFacts, facts: RunFacts): CostLine {
  return lineOf(
    `Cutting ${rollTitle(one)}`,
    's',
    cuttingSeconds(one),
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
