import { isDeepStrictEqual } from 'node:util';
import type { Pair, YAMLMap, YAMLSeq } from 'yaml';
import { isMap, isSeq } from 'yaml';
import type { Editing, Values } from './editing.ts';
import { beginEditing, isValues } from './editing.ts';
import { matchLists, partOf } from './match.ts';
import { removeInBrackets, removeItem, removePair } from './remove.ts';
import type { Edit } from './source.ts';
import { NotInPlace, nameOfKey, withEdits } from './source.ts';
import { blockText, flowText, indented } from './write.ts';

/**
 * The edits that make a value of a text, which says `before`, say `after`. Throws NotInPlace where it
 * stands in a way that cannot be changed in place.
 */
export function editsOf(text: string, root: unknown, before: Values, after: Values): Edit[] {
  const editing = beginEditing(text, root, before, after);
  change(editing, root, before, after, 0);
  for (const remove of editing.removals) remove();
  return editing.edits;
}

/** `owner` is the column of the key or hyphen that a value belongs to; null: it stands inside brackets. */
function change(
  editing: Editing,
  node: unknown,
  before: unknown,
  after: unknown,
  owner: number | null,
): void {
  if (isDeepStrictEqual(before, after)) return;
  if (isMap(node) && node.items.length > 0) {
    if (isValues(before) && isValues(after)) return changeMap(editing, node, before, after);
    if (Array.isArray(after)) return becomeList(editing, node, before, after);
  }
  if (isSeq(node) && node.items.length > 0 && Array.isArray(before)) {
    if (Array.isArray(after) && after.length > 0) return changeList(editing, node, before, after);
    if (isValues(after)) return becomeOnly(editing, node, before, after);
  }
  replace(editing, node, after, owner);
}

/** Writes another value in the place of one that stands on the line of its key. */
function replace(editing: Editing, node: unknown, after: unknown, owner: number | null): void {
  const { text, startOf, endOf, nextLine, edit } = editing;
  if ((isMap(node) || isSeq(node)) && node.flow !== true) throw new NotInPlace();
  const [start, end] = [startOf(node), endOf(node)];
  if (owner === null) return edit(start, end, flowText(after));
  const [first, rest] = splitFirst(valueText(editing, after, owner));
  // What comes on lines of its own leaves no blank behind its key.
  const from = first === '' ? text.slice(0, start).trimEnd().length : start;
  edit(from, end, first);
  if (rest !== '') edit(nextLine(end), nextLine(end), rest);
}

function changeMap(editing: Editing, node: YAMLMap, before: Values, after: Values): void {
  const { startOf, endOf, columnOf, nextLine, edit } = editing;
  const isFlow = node.flow === true;
  const owner = isFlow ? null : columnOf(startOf(node.items[0]!.key));
  const names = node.items.map(({ key }) => nameOfKey(key));
  const gone = new Set<Pair>();
  for (const [i, pair] of node.items.entries()) {
    const name = names[i]!;
    if (isDeepStrictEqual(before[name], after[name])) continue;
    if (after[name] === undefined) gone.add(pair);
    else change(editing, pair.value, before[name], after[name], owner);
  }
  const added = Object.entries(after).filter(
    ([name, value]) => !names.includes(name) && !isDeepStrictEqual(before[name], value),
  );
  if (gone.size === node.items.length) {
    if (owner !== null) throw new NotInPlace();
    return edit(startOf(node), endOf(node), flowText(Object.fromEntries(added)));
  }
  if (owner === null) {
    removeInBrackets(
      editing,
      node.items.map((pair) => ({ from: pair.key, to: pair.value, isGone: gone.has(pair) })),
    );
    const end = endOf(node.items.at(-1)!.value);
    for (const [name, value] of added) edit(end, end, `, ${flowPair(name, value)}`);
    return;
  }
  for (const pair of gone) removePair(editing, pair);
  const end = nextLine(endOf(node));
  for (const [name, value] of added) edit(end, end, pairText(editing, name, value, owner));
}

function changeList(
  editing: Editing,
  node: YAMLSeq,
  before: readonly unknown[],
  after: readonly unknown[],
): void {
  const { items } = node;
  if (items.length !== before.length) throw new NotInPlace();
  if (node.flow === true) return changeFlowList(editing, node, before, after);
  const { lineStart, nextLine, columnOf, dashOf, endOf, edit } = editing;
  const dash = columnOf(dashOf(items[0]));
  let at = lineStart(dashOf(items[0]));
  for (const { from, to } of matchLists(before, after)) {
    if (to === null) removeItem(editing, items[from!], before[from!]);
    else if (from === null) edit(at, at, itemText(editing, after[to], dash));
    else change(editing, items[from], before[from], after[to], dash);
    if (from !== null) at = nextLine(endOf(items[from]));
  }
}

function changeFlowList(
  editing: Editing,
  node: YAMLSeq,
  before: readonly unknown[],
  after: readonly unknown[],
): void {
  const { startOf, endOf, edit } = editing;
  const { items } = node;
  const matches = matchLists(before, after);
  const stays = new Set(matches.flatMap(({ from, to }) => (to === null ? [] : (from ?? []))));
  if (stays.size === 0) return edit(startOf(node), endOf(node), flowText(after));
  removeInBrackets(
    editing,
    items.map((one, i) => ({ from: one, to: one, isGone: !stays.has(i) })),
  );
  const first = startOf(items[Math.min(...stays)]);
  let last: unknown = null;
  for (const { from, to } of matches) {
    if (to === null) continue;
    if (from !== null) {
      change(editing, items[from], before[from], after[to], null);
      last = items[from];
    } else if (last === null) edit(first, first, `${flowText(after[to])}, `);
    else edit(endOf(last), endOf(last), `, ${flowText(after[to])}`);
  }
}

/** One roll becomes several: what there is becomes an item of a list with the others. */
function becomeList(
  editing: Editing,
  node: YAMLMap,
  before: unknown,
  after: readonly unknown[],
): void {
  const { startOf, endOf, lineStart, nextLine, columnOf, isFirstOnLine, edit } = editing;
  const same = after.findIndex((one) => isDeepStrictEqual(one, before));
  const own = Math.max(0, same);
  const [above, below] = [after.slice(0, own), after.slice(own + 1)];
  const [start, end] = [startOf(node), endOf(node)];
  if (node.flow === true) {
    edit(start, start, `[ ${above.map((one) => `${flowText(one)}, `).join('')}`);
    change(editing, node, before, after[own], null);
    return edit(end, end, `${below.map((one) => `, ${flowText(one)}`).join('')} ]`);
  }
  if (!isFirstOnLine(start)) throw new NotInPlace();
  const column = columnOf(start);
  const itemsOf = (rolls: readonly unknown[]): string =>
    rolls.map((one) => itemText(editing, one, column)).join('');
  edit(lineStart(start), lineStart(start), itemsOf(above));
  edit(start, start, '- ');
  for (let line = nextLine(start); line < nextLine(end); line = nextLine(line)) {
    edit(line, line, '  ');
  }
  change(editing, node, before, after[own], column + 2);
  edit(nextLine(end), nextLine(end), itemsOf(below));
}

/** Several rolls become one. */
function becomeOnly(
  editing: Editing,
  node: YAMLSeq,
  before: readonly unknown[],
  after: Values,
): void {
  const { text, startOf, endOf, lineStart, nextLine, columnOf, dashOf, edit } = editing;
  const item = node.items[before.findIndex((one) => isDeepStrictEqual(one, after))];
  if (!isMap(item) || item.items.length === 0) throw new NotInPlace();
  if (node.flow === true) {
    return edit(startOf(node), endOf(node), text.slice(startOf(item), endOf(item)));
  }
  const dash = dashOf(item);
  if (!editing.isFirstOnLine(dash)) throw new NotInPlace();
  const [from, to] = [lineStart(dash), nextLine(endOf(item))];
  const [first, ...others] = linesOf(text.slice(startOf(item), to));
  const lines = others.map((line) => shifted(line, dash - startOf(item)));
  const [start, end] = [lineStart(dashOf(node.items[0])), nextLine(endOf(node))];
  edit(start, from, editing.commentLines(start, from));
  edit(from, to, ' '.repeat(columnOf(dash)) + [first, ...lines].join(''));
  edit(to, end, editing.commentLines(to, end));
}

/** A value behind its key: on the same line, or on lines of its own. */
function valueText(editing: Editing, value: unknown, owner: number): string {
  if (!isListOfParts(value)) return indented(blockText({ k: value }).slice('k:'.length), owner);
  return `\n${value.map((one) => itemText(editing, one, owner + 2)).join('')}`;
}

function pairText(editing: Editing, name: string, value: unknown, owner: number): string {
  const key = blockText({ [name]: 0 }).replace(/ 0\n$/, '');
  const text = isListOfParts(value)
    ? key + valueText(editing, value, owner)
    : indented(blockText({ [name]: value }), owner);
  return ' '.repeat(owner) + text;
}

function flowPair(name: string, value: unknown): string {
  return flowText({ [name]: value }).slice('{ '.length, -' }'.length);
}

/** An item of a block list: for a part that lay elsewhere before, the lines that it had there, changed. */
function itemText(editing: Editing, value: unknown, dash: number): string {
  const { text, lineStart, nextLine, endOf, parts, takenAlong } = editing;
  const part = partOf(value);
  const old = part === null ? undefined : parts.get(part);
  if (part === null || old === undefined || !isValues(value)) {
    return ' '.repeat(dash) + indented(blockText([value]), dash);
  }
  takenAlong.add(part);
  const [from, to] = [lineStart(old.dash), nextLine(endOf(old.node))];
  const edits = editsOf(text, old.node, old.value, value).map((one) => ({
    ...one,
    start: one.start - from,
    end: one.end - from,
  }));
  return linesOf(withEdits(text.slice(from, to), edits))
    .map((line) => shifted(line, dash - (old.dash - from)))
    .join('');
}

function linesOf(text: string): string[] {
  return text.split(/(?<=\n)/);
}

/** A line moved to the right by so many blanks, or to the left as far as it has blanks to give. */
function shifted(line: string, by: number): string {
  if (by >= 0) return ' '.repeat(by) + line;
  return line.slice(Math.min(-by, line.length - line.trimStart().length));
}

/** The first line without its blanks and its break, and the lines after it. */
function splitFirst(text: string): readonly [string, string] {
  const end = text.indexOf('\n');
  return [text.slice(0, end).trim(), text.slice(end + 1)];
}

function isListOfParts(value: unknown): value is readonly unknown[] {
  return Array.isArray(value) && value.length > 0 && partOf(value[0]) !== null;
}
