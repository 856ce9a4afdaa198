import type { Finding } from '../base/findings.ts';
import { errorFinding } from '../base/findings.ts';
import type { Box } from '../geometry/paths/box.ts';
import { heightOf, widthOf } from '../geometry/paths/box.ts';
import { decimal } from '../base/numbers.ts';
import type { Roll } from './lay.ts';

/** An error in a lay, or on the way to one. `part`: the label of the part that it is about. */
export function layError(rule: string, message: string, todo: string, part?: string): Finding {
  return errorFinding(rule, message, todo, part === undefined ? {} : { part });
}

/** A length in words: mm with two decimals. */
export function mmWords(value: number): string {
  return `${decimal(value, 2)} mm`;
}

/** An area (mm2) in words: square metres with two decimals. */
export function squareWords(area: number): string {
  return `${(area / 1e6).toFixed(2)} m²`;
}

/** The box of a part's cut contour at one of its turns. */
export interface TurnedBox {
  /** Degrees by which it is turned. */
  readonly rotation: number;
  readonly box: Box;
}

/** An error for parts, all alike, that are wider than the usable roll in all their turns. */
export function tooWide(
  labels: readonly string[],
  turns: readonly TurnedBox[],
  usable: number,
): Finding {
  const size = leastSize(turns, heightOf);
  return layError(
    'part-too-wide',
    `${size} across the roll; ${mmWords(usable)} are usable.${othersAlike(labels)}`,
    'Take a wider roll, or make the piece of two.',
    labels[0],
  );
}

/**
 * An error for parts, all alike, that fit across the roll only in turns in which they are longer than the
 * bed. `turns` are these.
 */
export function tooLong(
  labels: readonly string[],
  turns: readonly TurnedBox[],
  biteLength: number,
): Finding {
  const size = leastSize(turns, widthOf);
  return layError(
    'part-longer-than-bite',
    `${size} along the roll; the bed takes ${mmWords(biteLength)}.${othersAlike(labels)}`,
    'Take a machine with a longer bed, or make the piece of two.',
    labels[0],
  );
}

function othersAlike([, ...others]: readonly string[]): string {
  return others.length === 0 ? '' : ` So it is with ${others.join(', ')}.`;
}

/** An error for a lay that is longer than its roll. `over` are the parts that reach past the end. */
export function rollTooShort(
  cloth: string,
  length: number,
  roll: Roll,
  over: readonly string[],
): Finding {
  const isWhole = roll.outline === undefined && (roll.defects ?? []).length === 0;
  const lost = isWhole ? '' : ' Its defects, or the edge of the remnant, leave no more room.';
  return layError(
    'roll-too-short',
    `the lay of ${cloth} needs ${mmWords(length)} and the roll has ${mmWords(roll.length)}: ${mmWords(length - roll.length)} are missing.${lost} Not on it: ${over.join(', ')}.`,
    'Take a longer roll, move an order to another run (a set stays on one roll), or search longer: lays get shorter.',
  );
}

function leastSize(turned: readonly TurnedBox[], sizeOf: (box: Box) => number): string {
  const turns = turned.map(({ rotation }) => decimal(rotation, 2)).join(', ');
  const size = mmWords(Math.min(...turned.map(({ box }) => sizeOf(box))));
  return turned.length === 1
    ? `turned by ${turns} degrees, as it must be, the part is ${size}`
    : `turned by ${turns} degrees the part is at least ${size}`;
}
