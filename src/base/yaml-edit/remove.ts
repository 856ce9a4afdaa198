import type { Pair } from 'yaml';
import { isNode, isSeq } from 'yaml';
import type { Editing } from './editing.ts';
import { partOf } from './match.ts';
import { NotInPlace } from './source.ts';

/** Takes an item out of a block list: its lines. */
export function removeItem(editing: Editing, item: unknown, value: unknown): void {
  const { dashOf, endOf } = editing;
  removeLines(editing, dashOf(item), endOf(item), '', () => leftBehind(editing, item, value));
}

/** Takes a key out of a block mapping: its lines. */
export function removePair(editing: Editing, { key, value }: Pair): void {
  const { text, columnOf, startOf, endOf, commentAfter } = editing;
  if (!isSeq(value) || value.flow === true) {
    return removeLines(editing, startOf(key), endOf(value ?? key), '', () => '');
  }
  // What is said of a list of parts is said of parts that now lie elsewhere.
  const said = commentAfter(text.indexOf(':', endOf(key)) + 1);
  const line = said === '' ? '' : `${' '.repeat(columnOf(startOf(key)))}${said}\n`;
  removeLines(editing, startOf(key), endOf(value), line, () =>
    value.items
      .map((item) => leftBehind(editing, item, isNode(item) ? item.toJSON() : null))
      .join(''),
  );
}

/** Takes out whole lines. Comments on lines of their own stay, with others above and below them. */
function removeLines(
  { lineStart, nextLine, isFirstOnLine, commentLines, removals, edit }: Editing,
  start: number,
  end: number,
  above: string,
  below: () => string,
): void {
  if (!isFirstOnLine(start)) throw new NotInPlace();
  const [from, to] = [lineStart(start), nextLine(end)];
  removals.push(() => edit(from, to, above + commentLines(from, to) + below()));
}

/** What is said beside a part stays, even where its line cannot go along with it. */
function leftBehind(
  { columnOf, dashOf, endOf, commentAfter, staying, takenAlong }: Editing,
  item: unknown,
  value: unknown,
): string {
  const part = partOf(value);
  const comment = commentAfter(endOf(item));
  if (part === null || comment === '' || !staying.has(part) || takenAlong.has(part)) return '';
  return `${' '.repeat(columnOf(dashOf(item)))}${comment}\n`;
}

/** Something inside brackets: it begins with `from` and ends with `to`. */
interface InBrackets {
  readonly from: unknown;
  readonly to: unknown;
  readonly isGone: boolean;
}

/** Takes out what is gone, each with the comma that follows it, or at the end with the one before. */
export function removeInBrackets(
  { startOf, endOf, edit }: Editing,
  items: readonly InBrackets[],
): void {
  const lastStaying = items.findLastIndex(({ isGone }) => !isGone);
  for (const [i, { from, isGone }] of items.entries()) {
    if (isGone && i < lastStaying) edit(startOf(from), startOf(items[i + 1]!.from), '');
  }
  if (lastStaying < items.length - 1) {
    edit(endOf(items[lastStaying]!.to), endOf(items.at(-1)!.to), '');
  }
}
