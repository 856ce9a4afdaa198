import type { z } from 'zod';
import type { Finding, Place } from '../base/findings.ts';
import { errorFinding, inOrderOfLines, Refusal } from '../base/findings.ts';
import { wrongness } from '../base/schema-words.ts';
import { cutShort } from '../base/wording.ts';
import { readYesNo } from '../base/yes-no.ts';
import { likeliestIssues } from '../base/yaml.ts';
import type { Order } from '../handing/order.ts';
import { orderSchema } from '../handing/order.ts';
import type { CsvCell, CsvRow } from './csv-table.ts';
import { readCsvTable } from './csv-table.ts';

/** How the cells of a column are read. */
type CellKind = 'text' | 'count' | 'yes-no' | 'names' | 'day';

/** Every column that a table of orders can have, but those of options: keys of an order, joined by points. */
const kinds: ReadonlyMap<string, CellKind> = new Map<string, CellKind>([
  ['order', 'text'],
  ['set', 'text'],
  ['hand', 'text'],
  ['quantity', 'count'],
  ['carpet.material', 'text'],
  ['carpet.colour', 'text'],
  ['heelPads', 'text'],
  ['pad.material', 'text'],
  ['pad.colour', 'text'],
  ['boards', 'yes-no'],
  ['board.material', 'text'],
  ['board.colour', 'text'],
  ['underlay', 'yes-no'],
  ['underlay.material', 'text'],
  ['underlay.colour', 'text'],
  ['binding', 'text'],
  ['edge.finish', 'text'],
  ['edge.colour', 'text'],
  ['thread', 'text'],
  ['alone', 'names'],
  ['without', 'names'],
  ['customer', 'text'],
  ['due', 'day'],
  ['benchNote', 'text'],
  ['customerNote', 'text'],
]);

const needed = ['order', 'set', 'hand'] as const;

const optionColumn = /^options\.[a-z0-9]+$/;

/** The headings of a table of orders, with a column for each of these options. */
export function orderHeadings(options: readonly string[]): string[] {
  return [...kinds.keys(), ...options.map((name) => `options.${name}`)];
}

/** Orders from a table, and where the keys of each stand in it. */
export interface OrderTable {
  readonly orders: readonly Order[];
  /** The place of a key of an order, given by its number, or the line of the order. */
  readonly placeOf: (order: number, keys: readonly PropertyKey[]) => Place;
}

/**
 * Reads orders from a CSV. Throws a Refusal that names every line that is wrong; nothing is read by
 * halves.
 */
export function readOrdersCsv(file: string): OrderTable {
  const { headings, rows, findings } = readCsvTable(file, 'CSV of orders');
  refuseHeadings(headings, file);
  const read = rows.map(orderOf);
  const wrong = [...findings, ...read.flatMap((one) => one.findings)];
  if (rows.length === 0 && wrong.length === 0) {
    wrong.push(
      error('there is no order in this file.', 'Write a line for each below the headings.', {
        file,
      }),
    );
  }
  if (wrong.length > 0) {
    throw new Refusal(inOrderOfLines(wrong));
  }
  return {
    orders: read.map(({ order }) => order!),
    placeOf: (i, keys) => {
      const row = rows[i];
      return row === undefined ? { file } : (cellAt(row, keys)?.where ?? row.where);
    },
  };
}

function refuseHeadings(headings: ReadonlyMap<string, Place>, file: string): void {
  const isKnown = (name: string): boolean => kinds.has(name) || optionColumn.test(name);
  const there = `There are: ${orderHeadings(['NAME']).join(', ')}.`;
  const line = [...headings.values()][0]?.line ?? 1;
  if (![...headings.keys()].some(isKnown)) {
    const message = 'the first line has no headings: it must say what stands in the columns below.';
    throw new Refusal([error(message, there, { file, line })]);
  }
  const findings = [
    ...[...headings].flatMap(([name, where]) =>
      isKnown(name) ? [] : [error(`"${cutShort(name, 40)}" is no column of orders.`, there, where)],
    ),
    ...needed
      .filter((name) => !headings.has(name))
      .map((name) =>
        error(`there is no column "${name}".`, 'Every order must say it: add the column.', {
          file,
          line,
        }),
      ),
  ];
  if (findings.length > 0) throw new Refusal(findings);
}

function error(message: string, todo: string, where: Place): Finding {
  return errorFinding('csv', message, todo, where);
}

/** The order of a line; or what is wrong with it. */
function orderOf(row: CsvRow): { order?: Order; findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const plain: Record<string, unknown> = {};
  for (const [name, cell] of row.cells) {
    const value = valueOf(kinds.get(name) ?? 'text', name, cell);
    if (isWrong(value)) findings.push(value.wrong);
    else put(plain, name.split('.'), value);
  }
  const against = underlayAgainst(row);
  if (against !== null) findings.push(against);
  const read = orderSchema.safeParse(plain);
  if (!read.success) findings.push(...read.error.issues.flatMap((one) => wordIssue(one, row)));
  return findings.length > 0 ? { findings } : { order: read.data!, findings };
}

/** Puts a value where its column says; `underlay: yes` gives way to what underlay it is to be. */
function put(plain: Record<string, unknown>, keys: readonly string[], value: unknown): void {
  const [first = '', second] = keys;
  const there = plain[first];
  const inner = typeof there === 'object' ? there : {};
  if (second !== undefined) plain[first] = { ...inner, [second]: value };
  else if (there === undefined) plain[first] = value;
}

/** A finding if an order wants no underlay, and says which. */
function underlayAgainst({ cells }: CsvRow): Finding | null {
  const cell = cells.get('underlay');
  const which = ['underlay.material', 'underlay.colour'].find((name) => cells.has(name));
  if (cell === undefined || which === undefined || readYesNo(cell.text) !== false) {
    return null;
  }
  return error(
    `"underlay" says ${cell.text}, and "${which}" says which.`,
    'Keep one of them.',
    cell.where,
  );
}

/** What a cell cannot be read as. */
interface WrongCell {
  readonly wrong: Finding;
}

function isWrong(value: unknown): value is WrongCell {
  return typeof value === 'object' && value !== null && 'wrong' in value;
}

function valueOf(
  kind: CellKind,
  name: string,
  { text, where }: CsvCell,
): string | number | boolean | readonly string[] | WrongCell {
  const wrong = (words: string, todo: string): WrongCell => ({
    wrong: error(`"${name}" says "${cutShort(text, 40)}", and that is ${words}.`, todo, where),
  });
  switch (kind) {
    case 'text':
      return text;
    case 'count':
      return /^\d{1,9}$/.test(text)
        ? Number(text)
        : wrong('no whole number', 'Write digits alone, like 2.');
    case 'yes-no':
      return readYesNo(text) ?? wrong('neither yes nor no', 'Write yes or no.');
    case 'names':
      return text.split(/\s+/);
    case 'day':
      return /^\d{4}-\d{2}-\d{2}$/.test(text)
        ? text
        : wrong('no day as it is written here', dayTodo(text));
  }
}

/** How a day is to be written; where it stands in the other order with points, the very day. */
function dayTodo(text: string): string {
  const [, day, month, year] = /^(\d{1,2})\.(\d{1,2})\.(\d{4})$/.exec(text) ?? [];
  const written =
    year === undefined
      ? 'year-month-day, like 2026-12-04'
      : [year, month!.padStart(2, '0'), day!.padStart(2, '0')].join('-');
  return `Write ${written}; in a spreadsheet, make the column a column of text first.`;
}

/** The cell that a path in an order was read from: of its longest beginning that is a column. */
function cellAt({ cells }: CsvRow, path: readonly PropertyKey[]): CsvCell | undefined {
  for (let length = path.length; length > 0; length--) {
    const cell = cells.get(path.slice(0, length).map(String).join('.'));
    if (cell !== undefined) return cell;
  }
  return undefined;
}

function wordIssue(issue: z.core.$ZodIssue, row: CsvRow): Finding[] {
  const inner = likeliestIssues(issue);
  if (inner.length > 0) return inner.flatMap((one) => wordIssue(one, row));
  const name = issue.path.map(String).join('.');
  const cell = cellAt(row, issue.path);
  if (cell === undefined) {
    return [error(`"${name}" is empty.`, 'Every order must say it.', row.where)];
  }
  const words = `"${cell.where.heading!}" says "${cutShort(cell.text, 40)}" and ${wrongness(issue)}.`;
  return [error(words, 'Write an allowed value.', cell.where)];
}
