import { areaOf } from '../../geometry/paths/area.ts';
import { heightOf, widthOf } from '../../geometry/paths/box.ts';
import { boxOfPath, pathLength } from '../../geometry/paths/path.ts';
import { rounded } from '../../base/numbers.ts';
import { layName } from '../../lay/lay.ts';
import { edgeKinds } from '../../pattern/words.ts';
import { edgeColourOf } from '../../handing/order-choices.ts';
import { wordOptions } from '../../pattern/choice.ts';
import type { CsvValue } from './csv.ts';
import { csvText } from './csv.ts';
import { nextSteps, wordStep } from '../facts/next-steps.ts';
import { tellsMore } from '../facts/order-words.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { lengthWords } from '../../base/wording.ts';

/**
 * A table of all parts of a run, roll by roll in cutting order: what each is, where it is cut, and its
 * measures. Lengths in mm, areas in mm2.
 */
export function partsCsv(facts: RunFacts): string {
  const isMore = facts.orders.some(tellsMore);
  const head = [
    'label',
    'name',
    'piece',
    'kind',
    'side',
    'hand',
    'order',
    'set',
    'material',
    'roll file',
    'bite',
    'cut as number',
    'across mm',
    'along mm',
    'net area mm2',
    'cut area mm2',
    'cut length mm',
    ...edgeKinds.map((kind) => `${kind} mm`),
    'what happens next',
    ...(isMore ? partEnds : []),
  ];
  return csvText([
    head,
    ...partsInOrder(facts).map((one, i) => [
      ...partRow(one, i + 1),
      ...(isMore ? partEnd(one) : []),
    ]),
  ]);
}

/** The columns for what orders say of material, finish and people. They are there only if one does. */
const partEnds = ['colour', 'edge colour', 'thread', 'options', 'customer', 'due'];

function partEnd({ name, order: { order, set, parts, bench } }: CutPart): CsvValue[] {
  const { colour } = parts.find((one) => one.name === name)!;
  const isBound = bench.get(name)!.edges.bound > 0;
  return [
    colour ?? '',
    (isBound ? edgeColourOf(order) : undefined) ?? '',
    order.thread ?? '',
    wordOptions(set.content, set.options),
    order.customer ?? '',
    order.due ?? '',
  ];
}

/** A part, and where it is cut. */
export interface CutPart {
  readonly label: string;
  /** Its name in the set. */
  readonly name: string;
  readonly set: number;
  readonly order: OrderFacts;
  readonly roll: string;
  /** The number of the bite, from 1. */
  readonly bite: number;
}

/** All parts of a run in the order in which they come free: roll by roll, bite by bite. */
export function partsInOrder({ materials, orders }: RunFacts): CutPart[] {
  const byOrder = new Map(orders.map((one) => [one.order.order, one]));
  return materials.flatMap(({ lay, bites, parts }) => {
    const byLabel = new Map(parts.map((part) => [part.label, part]));
    const freed = new Map<string, number>();
    for (const [i, { cuts }] of bites.entries()) {
      for (const { label, kind } of cuts) {
        if (kind !== 'outline') continue;
        // A part that is cut in two bites comes free in the second.
        freed.delete(label);
        freed.set(label, i + 1);
      }
    }
    return [...freed].map(([label, bite]) => {
      const { name, set, order } = byLabel.get(label)!;
      return { label, name, set, order: byOrder.get(order)!, roll: layName(lay), bite };
    });
  });
}

function partRow({ label, name, set, order, roll, bite }: CutPart, number: number): CsvValue[] {
  const part = order.parts.find((one) => one.name === name)!;
  const bench = order.bench.get(name)!;
  const box = boxOfPath(part.cut);
  const holes = part.inner.reduce((sum, { path }) => sum + areaOf(path), 0);
  const steps = nextSteps(order, name, lengthWords(false));
  return [
    label,
    name,
    part.piece,
    part.kind,
    part.side ?? 'centre',
    part.hand,
    part.order,
    set,
    part.material,
    roll,
    bite,
    number,
    tenth(widthOf(box)),
    tenth(heightOf(box)),
    tenth(areaOf(part.net) - holes),
    tenth(areaOf(part.cut) - holes),
    tenth(pathLength(part.cut)),
    ...edgeKinds.map((kind) => tenth(bench.edges[kind])),
    steps.map(wordStep).join('; '),
  ];
}

function tenth(value: number): number {
  return rounded(value, 1);
}

/** A table of the tape for each part with bound edges, order by order and set by set, mm. */
export function bindingCsv({ orders }: Pick<RunFacts, 'orders'>): string {
  const isMore = orders.some(tellsMore);
  const head = [
    'order',
    'set',
    'hand',
    'part',
    'tape',
    'colour',
    'edges mm',
    'runs',
    'joints mm',
    'tight curves mm',
    'to cut mm',
    ...(isMore ? ['finish', 'thread', 'customer', 'due'] : []),
  ];
  const rows = orders.flatMap(({ order, set, parts, bench }) =>
    Array.from({ length: order.quantity }, (_, i) => i + 1).flatMap((number) =>
      parts.flatMap(({ name }): CsvValue[][] => {
        const { tape } = bench.get(name)!;
        if (tape === null) return [];
        return [
          [
            order.order,
            number,
            order.hand,
            name,
            set.binding!.title,
            edgeColourOf(order) ?? '',
            tenth(tape.length),
            tape.runs,
            tenth(tape.joining),
            tenth(tape.extra),
            tenth(tape.total),
            ...(isMore
              ? [set.binding!.kind, order.thread ?? '', order.customer ?? '', order.due ?? '']
              : []),
          ],
        ];
      }),
    ),
  );
  return csvText([head, ...rows]);
}
