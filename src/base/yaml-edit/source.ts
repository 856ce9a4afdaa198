import type { Node } from 'yaml';
import { isCollection, isPair, isScalar } from 'yaml';

/** Thrown where a value stands in a way that cannot be changed in place. */
export class NotInPlace extends Error {}

/** A stretch of a text, from `start` up to `end`, that is replaced. */
export interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** A text with its edits, of which no two overlap. Those at the same place come in the order of the list. */
export function withEdits(text: string, edits: readonly Edit[]): string {
  const eol = text.includes('\r\n') ? '\r\n' : '\n';
  let [written, at] = ['', 0];
  for (const edit of edits.toSorted((a, b) => a.start - b.start || a.end - b.end)) {
    if (edit.start < at) throw new NotInPlace();
    written += text.slice(at, edit.start) + edit.text.replaceAll(/\r?\n/g, eol);
    at = edit.end;
  }
  return written + text.slice(at);
}

/** The lines of a YAML text and where the values stand in them. Places are numbers of characters. */
export interface Source {
  readonly text: string;
  /** Where the line of a place begins. */
  readonly lineStart: (at: number) => number;
  /** Where the line after that of a place begins. */
  readonly nextLine: (at: number) => number;
  /** How far from the beginning of its line a place is. */
  readonly columnOf: (at: number) => number;
  /** Whether nothing but blanks stands before a place on its line. */
  readonly isFirstOnLine: (at: number) => boolean;
  readonly startOf: (node: unknown) => number;
  /** Behind the last character of a value: before a comment on its last line. */
  readonly endOf: (node: unknown) => number;
  /** Of an item of a block list: the place of its hyphen. */
  readonly dashOf: (item: unknown) => number;
  /** The comment behind a place on its line; empty where there is none. */
  readonly commentAfter: (at: number) => string;
  /** The lines between two places that are comments and nothing else. */
  readonly commentLines: (start: number, end: number) => string;
}

/** `text` ends with a line break. */
export function sourceOf(text: string): Source {
  const lineStart = (at: number): number => text.lastIndexOf('\n', at - 1) + 1;
  const nextLine = (at: number): number => text.indexOf('\n', at) + 1;
  const startOf = (node: unknown): number => rangeOf(node)[0];
  const endOf = (node: unknown): number => {
    if (isCollection(node) && node.flow !== true && node.items.length > 0) {
      const last = node.items.at(-1);
      return isPair(last) ? endOf(last.value ?? last.key) : endOf(last);
    }
    const [start, end] = rangeOf(node);
    const isBlock = isScalar(node) && (node.type?.startsWith('BLOCK') ?? false);
    return isBlock ? start + text.slice(start, end).trimEnd().length : end;
  };
  const dashOf = (item: unknown): number => {
    const start = startOf(item);
    const dash = text.lastIndexOf('-', start - 1);
    if (dash === -1 || text.slice(dash + 1, start).trim() !== '') throw new NotInPlace();
    return dash;
  };
  return {
    text,
    lineStart,
    nextLine,
    columnOf: (at) => at - lineStart(at),
    isFirstOnLine: (at) => text.slice(lineStart(at), at).trim() === '',
    startOf,
    endOf,
    dashOf,
    commentAfter: (at) => /^\s*(#.*?)?\s*$/.exec(text.slice(at, nextLine(at)))?.[1] ?? '',
    commentLines: (start, end) =>
      text
        .slice(start, end)
        .split(/(?<=\n)/)
        .filter((line) => /^\s*#/.test(line))
        .join(''),
  };
}

function rangeOf(node: unknown): readonly [number, number, number] {
  const range = (node as Node | null | undefined)?.range;
  if (range === null || range === undefined) throw new NotInPlace();
  return range;
}

/** What a key of a mapping is called in plain values. */
export function nameOfKey(key: unknown): string {
  if (!isScalar(key) || key.value === null) throw new NotInPlace();
  return String(key.value);
}
