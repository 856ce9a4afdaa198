import type { Finding } from '../findings.ts';
import { heightOf, widthOf } from '../geometry/box.ts';
import { decimal } from '../numbers.ts';
import type { Field } from './place.ts';
import type { Shape } from './shape.ts';

/** An error in a lay or on the way to one, about one part where one is named. */
export function layError(rule: string, message: string, todo: string, part?: string): Finding {
  return { severity: 'error', rule, message, todo, where: part === undefined ? {} : { part } };
}

/** mm with two decimals and the unit. */
export function mm(value: number): string {
  return `${decimal(value, 2)} mm`;
}

/** A part that lies across the usable roll in none of its turns; the narrowest of them is shown. */
export function tooWide(label: string, shapes: readonly Shape[], { minY, maxY }: Field): Finding {
  const usable = maxY - minY;
  return layError(
    'part-too-wide',
    `laid in ${turnsInWords(shapes)} the part is ${mm(Math.min(...shapes.map(({ box }) => heightOf(box))))} across the roll; ${mm(usable)} are usable.`,
    'Take a wider roll, or make the piece of two.',
    label,
  );
}

/** A part that fits across the roll only in turns in which it is longer than the machine's bed. */
export function tooLong(label: string, shapes: readonly Shape[], { biteLength }: Field): Finding {
  return layError(
    'part-longer-than-bite',
    `laid in ${turnsInWords(shapes)} the part is ${mm(Math.min(...shapes.map(({ box }) => widthOf(box))))} along the roll; the bed takes ${mm(biteLength)}.`,
    'Take a machine with a longer bed, or make the piece of two.',
    label,
  );
}

/** A lay longer than the roll; `over` are the parts that reach past its end. */
export function rollTooShort(length: number, rollLength: number, over: readonly string[]): Finding {
  return layError(
    'roll-too-short',
    `the lay needs ${mm(length)} and the roll has ${mm(rollLength)}: ${mm(length - rollLength)} are missing. Not on it: ${over.join(', ')}.`,
    'Take a longer roll, search longer, or move an order to another run; a set stays on one roll.',
  );
}

function turnsInWords(shapes: readonly Shape[]): string {
  const turns = shapes.map(({ rotation }) => decimal(rotation, 2));
  const last = turns.at(-1)!;
  if (turns.length === 1) return `its only turn (${last} degrees)`;
  return `any of its turns (${turns.slice(0, -1).join(', ')} or ${last} degrees)`;
}
