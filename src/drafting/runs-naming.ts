import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { Refusal } from '../base/findings.ts';
import { namesIn } from '../base/named-file.ts';
import { counted } from '../base/wording.ts';
import { readText } from '../base/yaml.ts';
import { pieceMeant } from '../handing/selection.ts';
import type { RunFile } from '../run/run-file.ts';
import { entriesOf, ordersFileOf, readRun } from '../run/run-file.ts';
import type { Draft } from './draft.ts';

/** A run that speaks of a piece, and where: `order 1041, under alone: mat-left`. */
export interface RunNaming {
  readonly run: string;
  readonly places: readonly string[];
}

/** The runs beside a set that speak of one of its pieces. A change of its name does not reach them. */
export function runsNaming({ folder, name: set, said }: Draft, piece: string): RunNaming[] {
  const patterns = dirname(folder);
  const pieces = Object.keys(said.pieces);
  const emptied = groupsOfOnly(said.groups ?? {}, piece, pieces);
  const isMeant = (name: string): boolean =>
    emptied.includes(name) || pieceMeant(name, pieces) === piece;
  return namesIn(patterns)
    .map((run) => ({ run, places: placesIn(join(patterns, `${run}.yaml`), set, piece, isMeant) }))
    .filter(({ places }) => places.length > 0);
}

/** The groups of a set that have no piece but one. */
function groupsOfOnly(
  groups: Readonly<Record<string, readonly string[]>>,
  piece: string,
  pieces: readonly string[],
): string[] {
  return Object.entries(groups)
    .filter(([, names]) => names.every((name) => pieceMeant(name, pieces) === piece))
    .map(([group]) => group);
}

function placesIn(
  file: string,
  set: string,
  piece: string,
  isMeant: (name: string) => boolean,
): string[] {
  try {
    return placesInRun(readRun(file), set, isMeant);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return isWordOf(file, piece)
      ? [`somewhere: the run file cannot be read as it stands, and has "${piece}"`]
      : [];
  }
}

/** Whether a piece is a word of a run file that cannot be read, or of its table of orders. */
function isWordOf(file: string, piece: string): boolean {
  const table = ordersFileOf(file);
  const texts = [file, table].filter((one) => one !== null && existsSync(one));
  const word = new RegExp(`(?<![a-z0-9])${piece}(?![a-z0-9])`);
  return texts.some((one) => word.test(readText(one!, 'run file')));
}

function placesInRun(
  { orders, rolls }: RunFile,
  set: string,
  isMeant: (name: string) => boolean,
): string[] {
  const own = orders.filter((order) => order.set === set);
  const inOrders = own.flatMap((order) =>
    (['alone', 'without'] as const).flatMap((key) => {
      const names = (order[key] ?? []).filter(isMeant);
      return names.length === 0 ? [] : [`order ${order.order}, under ${key}: ${names.join(', ')}`];
    }),
  );
  const ids = new Set(own.map(({ order }) => order));
  const isOfPiece = (label: string): boolean => {
    const [name = '', , order = ''] = label.split('.');
    return ids.has(order) && isMeant(name);
  };
  const loaded = Object.keys(rolls).flatMap((material) =>
    entriesOf(rolls, material).map(({ entry }) => entry),
  );
  const pinned = loaded.flatMap(({ pins }) => pins.map(({ part }) => part)).filter(isOfPiece);
  const laid = loaded.flatMap((roll) => roll.laid).filter(({ part }) => isOfPiece(part));
  return [
    ...inOrders,
    ...pinned.map((part) => `a pin: ${part}`),
    ...(laid.length === 0 ? [] : [`its lay: ${counted(laid.length, 'part')}`]),
  ];
}
