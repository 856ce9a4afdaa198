import type { Order } from '../../handing/order.ts';
import { edgeColourOf } from '../../handing/order-choices.ts';
import type { Part } from '../../handing/part.ts';
import { wordedOptions, wordOptions } from '../../pattern/choice.ts';
import type { Cloth } from '../../pattern/shop/cloth.ts';
import { wordCloth } from '../../pattern/shop/cloth.ts';
import { listed } from '../../base/wording.ts';
import type { OrderFacts } from './run-facts.ts';
import { colourWords } from './tape-totals.ts';

/** What an order says of material, finish, thread, parts and people. All of it may be left out. */
export type OrderSays = Pick<
  Order,
  | 'carpet'
  | 'pad'
  | 'board'
  | 'underlay'
  | 'binding'
  | 'edge'
  | 'thread'
  | 'alone'
  | 'without'
  | 'options'
  | 'customer'
  | 'due'
  | 'benchNote'
  | 'customerNote'
>;

/** Whether an order says anything of material, finish, thread, parts or people. */
function saysMore(order: OrderSays): boolean {
  const { carpet, pad, board, underlay, edge, thread, alone, without, options } = order;
  const { customer, due, benchNote, customerNote } = order;
  const things = [carpet, pad, board, edge, thread, alone, without, options];
  const people = [customer, due, benchNote, customerNote];
  return typeof underlay === 'object' || [...things, ...people].some((one) => one !== undefined);
}

/**
 * Whether papers have more to say of an order than hand, number and what is made of its set. Where they
 * have not, nothing stands on them for it.
 */
export function tellsMore({ order, set, parts }: OrderFacts): boolean {
  const isColoured = parts.some(({ colour }) => colour !== undefined);
  return saysMore(order) || set.options.size > 0 || isColoured;
}

/** What carpets, pads, boards or underlays of an order are cut from, in words. Empty if there are none. */
export function clothWords({ cloths }: OrderFacts, kind: Part['kind']): string {
  return cloths[kind].map(wordCloth).join('; ');
}

/** How the edges of an order are finished, in words. Empty if none is. */
export function edgeWords({ order, set, bench }: OrderFacts): string {
  if (![...bench.values()].some(({ edges }) => edges.bound > 0)) return '';
  const colour = colourWords(edgeColourOf(order));
  return set.binding === null ? colour : `${set.binding.title}, ${colour}`;
}

/** Whether an order wants the whole set, or how much of it, and without what it is made for the order. */
export function extentWords(facts: OrderFacts): string {
  const { parts, others } = facts;
  const extent =
    others.length === 0
      ? 'the whole set'
      : `${parts.length} of ${parts.length + others.length} parts of the set`;
  const missing = leftOutKinds(facts);
  return missing.length === 0 ? extent : `${extent}, without ${listed(missing)}`;
}

/** What the set has and the order leaves out as a kind, so that it is no part of the set for it. */
function leftOutKinds({ order, set: { pieces } }: OrderFacts): string[] {
  const has = (kind: 'pad' | 'board' | 'underlay'): boolean =>
    pieces.some(({ entry }) => entry[kind] !== undefined);
  return [
    ...(order.heelPads === 'none' && has('pad') ? ['heel pads'] : []),
    ...(!order.boards && has('board') ? ['boards'] : []),
    ...(order.underlay === false && has('underlay') ? ['underlay'] : []),
  ];
}

/** An option that shapes a part, in words and in few: `centre console: long`, `console long`. */
export type ShapeWords = readonly [words: string, short: string];

/** The options that the piece of a part goes with, as they are. Empty: it is the same with all. */
export function shapeWords(
  { set }: Pick<OrderFacts, 'set'>,
  { piece }: Pick<Part, 'piece'>,
): ShapeWords[] {
  return wordedOptions(set.content, set.options)
    .filter(({ name }) => set.shapedBy.get(piece)?.has(name))
    .map(({ words, short }) => [words, short]);
}

/** The options of a part in one line: `late body; centre console: long`. */
export function wordShape(shape: readonly ShapeWords[]): string {
  return shape.map(([words]) => words).join('; ');
}

/** What an order is of, as names and values. What there is nothing of is left out. */
export function orderRows(facts: OrderFacts): [name: string, value: string][] {
  const { order, set } = facts;
  const rows: [string, string | undefined][] = [
    ['Carpet', clothWords(facts, 'piece')],
    ['Heel pads', clothWords(facts, 'pad')],
    ['Boards', clothWords(facts, 'board')],
    ['Underlay', clothWords(facts, 'underlay')],
    ['Edges', edgeWords(facts)],
    ['Thread', order.thread],
    ['Options', wordOptions(set.content, set.options)],
    ['Parts', extentWords(facts)],
    ['Customer', order.customer],
    ['Due', order.due],
  ];
  return rows.flatMap(([name, value]): [string, string][] =>
    value === undefined || value === '' ? [] : [[name, value]],
  );
}

/** What the customer is told of an order, as names and values. Empty if there is nothing new to say. */
export function customerRows(facts: OrderFacts): [name: string, value: string][] {
  if (!tellsMore(facts)) return [];
  return orderRows(facts).filter(([name]) => !['Thread', 'Due'].includes(name));
}

/** The lines of a note, as they were written. */
export function noteLines(note: string): string[] {
  return note.split('\n').filter((line) => line.trim() !== '');
}

/** What stands on the label of a part about its order. Empty if the order says nothing of it. */
export interface LabelWords {
  /** The material. */
  readonly cloth?: string;
  readonly colour?: string;
  /** Finish and thread, and for whom it is: the most important line first. */
  readonly lines: readonly string[];
}

export function labelWords(
  order: OrderSays,
  { kind, edges }: Pick<Part, 'kind' | 'edges'>,
  { material: { title }, colour }: Cloth,
): LabelWords {
  const isBound = edges.some((edge) => edge.kind === 'bound');
  const isSewn = kind === 'piece' || kind === 'pad';
  const edge = isBound ? edgeColourOf(order) : undefined;
  const { thread, customer, due } = order;
  const sewn = [
    ...(edge === undefined ? [] : [`edge ${edge}`]),
    ...(thread === undefined || !isSewn ? [] : [`thread ${thread}`]),
  ];
  const people = [
    ...(due === undefined ? [] : [`due ${due}`]),
    ...(customer === undefined ? [] : [`for ${customer}`]),
  ];
  return {
    cloth: title,
    ...(colour === undefined ? {} : { colour }),
    lines: [sewn.join(', '), people.join(', ')].filter((line) => line !== ''),
  };
}

/** The cloth on a label, with its colour in front, so that it is never what is cut off. */
export function labelCloth({ cloth, colour }: LabelWords): string {
  return [colour, cloth].filter((word) => word !== undefined).join(', ');
}
