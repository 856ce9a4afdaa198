import type { Finding } from '../findings.ts';
import type { Box } from '../geometry/box.ts';
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

/** A part that is wider than the usable roll in all its turns. */
export function tooWide(label: string, shapes: readonly Shape[], { minY, maxY }: Field): Finding {
  const size = leastSize(shapes, heightOf);
  return layError(
    'part-too-wide',
    `${size} across the roll; ${mm(maxY - minY)} are usable.`,
    'Take a wider roll, or make the piece of two.',
    label,
  );
}

/** A part that fits across the roll, but only in turns (`shapes`) in which it is longer than the bed. */
export function tooLong(label: string, shapes: readonly Shape[], { biteLength }: Field): Finding {
  const size = leastSize(shapes, widthOf);
  return layError(
    'part-longer-than-bite',
    `${size} along the roll; the bed takes ${mm(biteLength)}.`,
    'Take a machine with a longer bed, or make the piece of two.',
    label,
  );
}

/** A lay longer than its roll; `over` are the parts that reach past the end. */
export function rollTooShort(
  material: string,
  length: number,
  rollLength: number,
  over: readonly string[],
): Finding {
  return layError(
    'roll-too-short',
    `the lay of ${material} needs ${mm(length)} and the roll has ${mm(rollLength)}: ${mm(length - rollLength)} are missing. Not on it: ${over.join(', ')}.`,
    'Take a longer roll, search longer, or move an order to another run; a set stays on one roll.',
  );
}

function leastSize(shapes: readonly Shape[], sizeOf: (box: Box) => number): string {
  const turns = shapes.map(({ rotation }) => decimal(rotation, 2)).join(', ');
  const size = mm(Math.min(...shapes.map(({ box }) => sizeOf(box))));
  return shapes.length === 1
    ? `turned by ${turns} degrees, as it must be, the part is ${size}`
    : `turned by ${turns} degrees the part is at least ${size}`;
}
