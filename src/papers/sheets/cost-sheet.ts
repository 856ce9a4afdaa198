import type { Part } from '../../handing/part.ts';
import { usableWidth } from '../../lay/lay.ts';
import { sumOfMoney, wordMoney } from '../../pattern/shop/price.ts';
import type { Money } from '../../pattern/shop/price.ts';
import type { Cost, CostLine } from '../facts/cost.ts';
import { costOf, cuttingSeconds, unchargedOptions } from '../facts/cost.ts';
import type { PaperBlock, Column, Paper, PaperTable } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import { orderRows, tellsMore } from '../facts/order-words.ts';
import type { BenchRates } from '../../pattern/shop/bench.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { footOf, lengthNotSaid, restWords, rollTitle } from '../facts/run-facts.ts';
import { clock, counted, percent, shownNames, listed } from '../../base/wording.ts';

/** What a run uses up of each roll, what is left, and what it costs, in all and for each order. */
export function costSheet(facts: RunFacts): Paper {
  const cost = costOf(facts);
  return {
    title: `Cost and yield: ${facts.title}`,
    subtitle: `Run ${facts.run}. For the office; the machine needs none of this.`,
    foot: footOf(facts),
    blocks: [
      heading('What the rolls give'),
      yieldTable(facts),
      { kind: 'text', soft: true, text: yieldNote },
      heading('What goes into the orders'),
      contentsTable(facts.orders),
      heading('What it costs'),
      ...costBlocks(cost, facts),
      ...(facts.bench !== null || facts.orders.some(tellsMore) ? [clothSection(cost, facts)] : []),
    ],
  };
}

function yieldTable({ materials, lengths }: RunFacts): PaperTable {
  const rows = materials.map((one) => {
    const { lay } = one;
    const usable = usableWidth(lay.roll);
    return [
      rollTitle(one),
      lengths.metresUp(lay.length),
      restWords(one, lengths) ?? lengthNotSaid,
      percent(lay.density),
      percent((lay.density * usable) / lay.roll.width),
      timeWords(cuttingSeconds(one)),
    ];
  });
  const columns = [
    { head: 'Roll', share: 2.2 },
    { head: 'Used', figures: true },
    { head: 'Left on it', figures: true, share: 1.3 },
    { head: 'Density', figures: true },
    { head: 'Yield', figures: true },
    { head: 'Cutting (estimate)', figures: true, share: 1.1 },
  ] as const;
  return { kind: 'table', columns, rows };
}

function contentsTable(orders: readonly OrderFacts[]): PaperTable {
  const rows = orders.map(({ order, parts, others }) => {
    const count = (kind: Part['kind']): string =>
      String(order.quantity * parts.filter((part) => part.kind === kind).length);
    return [
      order.order,
      order.hand,
      others.length === 0 ? String(order.quantity) : `part of ${order.quantity}`,
      count('piece'),
      count('pad'),
      count('board'),
      count('underlay'),
    ];
  });
  const heads = ['Sets', 'Carpet parts', 'Heel pads', 'Boards', 'Underlays'];
  const columns: Column[] = [
    { head: 'Order' },
    { head: 'Hand' },
    ...heads.map((head) => ({ head, figures: true as const })),
  ];
  return { kind: 'table', columns, rows };
}

const yieldNote =
  'Density is how much of the usable width is cut into parts, yield how much of the full width, both over the length used.';

const timeNote =
  'Times are minutes and seconds, as 2:40 min. The cutting of a roll and the work at the bench for an order are rounded up to whole minutes; shares of them to whole seconds.';

const perWords = { cm: 'a metre', s: 'an hour', set: 'a set' } as const;

/** What of the cloth lies in parts, what is waste, and what is left on the rolls. */
function clothSection({ cloth }: Cost, { lengths }: RunFacts): PaperBlock {
  const sum = (amounts: readonly (Money | null)[]): string => {
    const known = amounts.filter((amount) => amount !== null);
    return known.length === 0 ? '' : sumWords(sumOfMoney(known));
  };
  return {
    kind: 'section',
    together: true,
    blocks: [
      heading('What becomes of the cloth'),
      {
        kind: 'table',
        columns: [
          { head: 'Roll', share: 2.4 },
          { head: 'In parts', figures: true, share: 1.2 },
          { head: 'Waste', figures: true, share: 1.2 },
          { head: 'Left on the roll', figures: true },
          { head: 'Its worth', figures: true, share: 1.2 },
        ],
        rows: cloth.map(({ what, inParts, waste, left, worth }) => [
          what,
          amountWords(inParts),
          amountWords(waste),
          left === null ? lengthNotSaid : lengths.mm(left),
          left === null ? '' : amountWords(worth),
        ]),
        totals: [
          'All rolls',
          sum(cloth.map(({ inParts }) => inParts)),
          sum(cloth.map(({ waste }) => waste)),
          '',
          sum(cloth.map(({ worth }) => worth)),
        ],
      },
      {
        kind: 'text',
        soft: true,
        text: 'What lies in parts and what is waste add up to what the roll costs above: they are no costs besides. Waste is all that is cut off the roll and is no part, over its full width. What is left on the roll is charged to nobody.',
      },
    ],
  };
}

function costBlocks(cost: Cost, { orders, bench }: RunFacts): PaperBlock[] {
  const { lines, total, unpriced } = cost;
  const whole: PaperTable = {
    kind: 'table',
    columns: [
      { head: 'What', share: 3 },
      { head: 'Quantity', figures: true },
      { head: 'Price', figures: true, share: 1.4 },
      { head: 'Amount', figures: true, share: 1.4 },
    ],
    rows: lines.map((line) => [
      line.what,
      quantityWords(line.unit, line.quantity),
      line.price === null ? 'no price' : `${wordMoney(line.price)} ${perWords[line.unit]}`,
      amountWords(line.amount),
    ]),
    totals: ['All orders', '', '', sumWords(total)],
  };
  const notes = [
    'Each roll and its cutting is shared among the orders by the area of their parts, which stands in parts.csv; tape and work at the bench by what each order takes. Shares are rounded so that they add up to the whole exactly.',
    timeNote,
    ...(bench === null ? [] : [benchNote(bench)]),
    ...(unpriced.length === 0
      ? []
      : [`In no sum, since no price is given in its file: ${unpriced.join('; ')}.`]),
  ];
  return [
    whole,
    {
      kind: 'section',
      together: true,
      blocks: notes.map((text): PaperBlock => ({ kind: 'text', soft: true, text })),
    },
    ...orders.map((one, i): PaperBlock => orderSection(one, i, cost)),
  ];
}

/** From what the minutes at the bench are, and what is not charged. */
function benchNote({ minutes }: BenchRates): string {
  const { bind, overlock = bind, sew, pad, board } = minutes;
  const rates = [
    `${bind} for a metre that is bound`,
    ...(overlock === bind ? [] : [`${overlock} for one that is overlocked`]),
    `${sew} for a metre of seam or stitch line`,
    `${pad} for a heel pad`,
    `${board} for a carpet that is fixed to its board`,
  ];
  return `Minutes at the bench: ${listed(rates)}. Turning edges under, wrapping them and what is finished by hand are not charged.`;
}

function orderSection(facts: OrderFacts, index: number, { lines, orders }: Cost): PaperBlock {
  const { order, set } = facts;
  const rows = lines
    .map((line): [CostLine, CostLine['shares'][number]] => [line, line.shares[index]!])
    // A small share may round to nothing, and still cost something: what is in the sum is printed.
    .filter(([, { quantity, amount }]) => quantity > 0 || (amount?.minor ?? 0) > 0)
    .map(([{ what, unit }, share]) => [
      what,
      quantityWords(unit, share.quantity),
      amountWords(share.amount),
    ]);
  const table: PaperTable = {
    kind: 'table',
    columns: [
      { head: 'What', share: 3 },
      { head: 'Share', figures: true },
      { head: 'Amount', figures: true, share: 1.4 },
    ],
    rows,
    totals: ['Order', '', sumWords(orders[index]!)],
  };
  return {
    kind: 'section',
    together: true,
    blocks: [
      heading(
        `Order ${order.order}: ${set.content.title}, ${order.hand}${order.quantity === 1 ? '' : `, ${order.quantity} sets in all`}`,
        3,
      ),
      ...(tellsMore(facts) ? [{ kind: 'facts', rows: orderedRows(facts) } as const] : []),
      table,
      ...unchargedBlocks(facts),
    ],
  };
}

/** For whom an order is, of what and how much of its set, as names and values. */
function orderedRows(facts: OrderFacts): [name: string, value: string][] {
  const wanted = ['Customer', 'Due', 'Parts', 'Carpet', 'Heel pads', 'Boards', 'Underlay'];
  const rows = orderRows(facts).filter(([name]) => wanted.includes(name));
  const placed = rows.map(([name, value]): [string, string] =>
    name === 'Parts' ? [name, `${value}${partsInWords(facts)}`] : [name, value],
  );
  return placed.toSorted(([a], [b]) => wanted.indexOf(a) - wanted.indexOf(b));
}

/** Which parts of its set an order of part of a set is of, or which it is without: the shorter list. */
function partsInWords({ parts, others }: OrderFacts): string {
  if (others.length === 0) return '';
  const names = (some: readonly Part[]): string =>
    shownNames(
      some.map(({ name }) => name),
      12,
    );
  return parts.length <= others.length ? `: ${names(parts)}` : `: all but ${names(others)}`;
}

function unchargedBlocks(facts: OrderFacts): PaperBlock[] {
  const options = unchargedOptions(facts);
  if (options.length === 0) return [];
  const text = `Not charged, as only part of the set is ordered: ${options.join('; ')}.`;
  return [{ kind: 'text', soft: true, text }];
}

function quantityWords(unit: CostLine['unit'], quantity: number): string {
  switch (unit) {
    case 'cm':
      return quantity === 0 ? 'under 0.01 m' : `${(quantity / 100).toFixed(2)} m`;
    case 's':
      return timeWords(quantity);
    case 'set':
      return counted(quantity, 'set');
  }
}

/** Seconds of work as minutes and seconds. */
function timeWords(seconds: number): string {
  return `${seconds === 0 ? 'under 0:01' : clock(seconds / 60)} min`;
}

function amountWords(amount: Money | null): string {
  return amount === null ? 'no price' : wordMoney(amount);
}

function sumWords(sums: readonly Money[]): string {
  return sums.length === 0 ? 'no price' : sums.map(wordMoney).join(' + ');
}
