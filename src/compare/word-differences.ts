import { cutShort } from '../base/wording.ts';
import type { Difference, Subject } from './difference.ts';
import { difference, theWhole } from './difference.ts';

type Words = Readonly<Record<string, string>>;

/** The facts that differ, one by one. */
export function wordDifferences(
  before: Words,
  after: Words,
  subject: Subject,
  skipped: (key: string) => boolean = () => false,
): Difference[] {
  const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])];
  return keys
    .filter((key) => !skipped(key) && before[key] !== after[key])
    .map((key) => {
      const [was, is] = [before[key], after[key]];
      const message =
        was === undefined
          ? `${key} is new: ${quoted(is!)}.`
          : is === undefined
            ? `${key} is gone; it was ${quoted(was)}.`
            : `${key}: ${quoted(was)} is now ${quoted(is)}.`;
      const fact = {
        name: key,
        ...(was === undefined ? {} : { was }),
        ...(is === undefined ? {} : { is }),
      };
      return difference('words', subject, message, { fact });
    });
}

/** The loose texts that only one of two inputs has. Their order does not count. */
export function textDifferences(before: readonly string[], after: readonly string[]): Difference[] {
  const count = new Map<string, number>();
  for (const text of before) count.set(text, (count.get(text) ?? 0) + 1);
  for (const text of after) count.set(text, (count.get(text) ?? 0) - 1);
  const only = (sign: number): string[] =>
    [...count].flatMap(([text, left]) =>
      Array.from({ length: Math.max(0, sign * left) }, () => text),
    );
  const [gone, come] = [only(1), only(-1)];
  return Array.from({ length: Math.max(gone.length, come.length) }, (_, i) => {
    const [was, is] = [gone[i], come[i]];
    const message =
      was === undefined
        ? `text is new: ${quoted(is!)}.`
        : is === undefined
          ? `text is gone: ${quoted(was)}.`
          : `text ${quoted(was)} is now ${quoted(is)}.`;
    return difference('words', theWhole, message);
  });
}

/** A text in quotes. A long one is shortened: the files have the rest. */
function quoted(text: string): string {
  return `"${cutShort(text.replaceAll(/\s+/g, ' '), 90)}"`;
}

/**
 * Flattens a record of any depth to facts: a path of keys like `a.b.0.c`, and its value. Keys in `left`
 * are left out at every depth.
 */
export function flatWords(
  value: unknown,
  left: ReadonlySet<string> = new Set(),
  prefix = '',
): Record<string, string> {
  if (typeof value !== 'object' || value === null) {
    return prefix === '' ? {} : { [prefix]: String(value) };
  }
  const entries = Object.entries(value).filter(([key]) => !left.has(key));
  return Object.assign(
    {},
    ...entries.map(([key, one]) => flatWords(one, left, prefix === '' ? key : `${prefix}.${key}`)),
  ) as Record<string, string>;
}
