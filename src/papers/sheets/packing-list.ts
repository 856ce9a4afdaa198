import { titleOf } from '../../pattern/choice.ts';
import { loose } from '../../pattern/shop/material.ts';
import { driverSide } from '../../pattern/words.ts';
import { counted } from '../../base/wording.ts';
import type { Paper, PaperBlock, PaperTable } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import { noteLines, orderRows } from '../facts/order-words.ts';
import type { PackedThing } from '../facts/packing.ts';
import { packedThings } from '../facts/packing.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { footOf } from '../facts/run-facts.ts';
import { colourWords, tapeTotals } from '../facts/tape-totals.ts';

/** So many sets have a box each to tick; of more the packer writes how many there are. */
const mostBoxes = 5;

/** What a part is within a thing that has a name already. */
const companionWords = { pad: 'heel pad', board: 'board', underlay: 'underlay' } as const;

/** Where somebody writes by hand. */
const blank = '_'.repeat(18);

/** What leaves of an order, for the packer: each thing once, with what it is made of, and boxes to tick. */
export function packingList(facts: OrderFacts, run: RunFacts): Paper {
  const { order, set, others } = facts;
  const things = packedThings(facts);
  const sets = `${others.length === 0 ? '' : 'part of '}${counted(order.quantity, 'set')}`;
  const title = `Packing list: order ${order.order}`;
  return {
    title,
    subtitle: `${titleOf(set)}, ${order.hand}: driver on the ${driverSide(order.hand)}; ${sets}. Left and right as seen sitting in the vehicle.`,
    foot: `${footOf(run)}, order ${order.order}`,
    again: title,
    blocks: [
      { kind: 'facts', rows: peopleRows(facts) },
      ...noteBlocks(facts),
      heading('What leaves', 3),
      { kind: 'text', text: countWords(things, facts) },
      thingsTable(things, order.quantity),
      { kind: 'facts', rows: handRows(facts, run) },
    ],
  };
}

/** For whom and when, and what the packer can hold the parts against. */
function peopleRows(facts: OrderFacts): [name: string, value: string][] {
  const wanted = ['Customer', 'Due', 'Carpet', 'Edges', 'Parts'];
  const rows = new Map(orderRows(facts));
  return wanted.flatMap((name): [string, string][] => {
    const value = rows.get(name);
    return value === undefined ? [] : [[name, value]];
  });
}

function noteBlocks({ order: { customerNote } }: OrderFacts): PaperBlock[] {
  if (customerNote === undefined) return [];
  return [{ kind: 'frame', title: 'For the customer', items: noteLines(customerNote) }];
}

function countWords(
  things: readonly PackedThing[],
  { order: { quantity }, parts }: OrderFacts,
): string {
  const count = `${counted(quantity * things.length, 'thing')}, made of ${counted(quantity * parts.length, 'part')}.`;
  const each = quantity === 1 ? '' : ` ${quantity} of each, one for each set.`;
  return `${count}${each} What is sewn together or fixed to its carpet is one thing.`;
}

function thingsTable(things: readonly PackedThing[], quantity: number): PaperTable {
  const boxes =
    quantity > mostBoxes ? '____' : Array.from({ length: quantity }, () => '☐').join(' ');
  return {
    kind: 'table',
    columns: [
      { head: 'Tick', share: quantity > 1 ? 1 : 0.55 },
      { head: 'Number', figures: true, share: 1 },
      { head: 'Thing', share: 2.75 },
      { head: 'Made of: the names on its labels', share: 5 },
    ],
    rows: things.map((thing) => [boxes, String(quantity), thingWords(thing), madeOf(thing)]),
  };
}

function thingWords({ title, carpets }: PackedThing): string {
  if (carpets === 0) return `${title}, loose`;
  return carpets === 1 ? title : `${title}, ${carpets} sewn together`;
}

/**
 * The parts of a thing by the names on their labels, in brackets what each is: the plain name of the first is the
 * thing’s own.
 */
function madeOf({ title, parts }: PackedThing): string {
  return parts
    .map(({ part, title: own, fixed }) => {
      const what = parts.length === 1 || part.kind === 'piece' ? own : companionWords[part.kind];
      const words = [
        ...(what === title ? [] : [what]),
        ...(fixed === null || fixed === loose ? [] : [fixed]),
      ];
      return words.length === 0 ? part.name : `${part.name} (${words.join(', ')})`;
    })
    .join('; ');
}

/** What the program does not know, to be written by hand; of tape it knows what was cut for the order. */
function handRows(facts: OrderFacts, { lengths }: RunFacts): [name: string, value: string][] {
  const tapes = tapeTotals([facts]).filter(({ kind }) => kind === 'tape');
  return [
    ...tapes.flatMap(({ tape, colour, total }): [string, string][] => [
      ['Tape cut for it', `${lengths.metresUp(total)} of ${tape}, ${colourWords(colour)}`],
      ['Spare tape sent', `${blank} m`],
    ]),
    ['Fitting sheet', '\u2610 is in the box'],
    ['Boxes', blank],
    ['Packed by, on', blank],
  ];
}
