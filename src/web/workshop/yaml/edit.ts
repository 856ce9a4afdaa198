/**
 * Changes a YAML text so that it says something else, and leaves every line as it stands that says the
 * same as before: comments, blank lines, the order of keys and the way in which a person has written it.
 *
 * The text is parsed for where each value stands. The values before and after are held against each
 * other, and each difference becomes a change of that stretch of the text alone.
 */
import { isDeepStrictEqual } from 'node:util';
import type { Document, Pair, YAMLMap, YAMLSeq } from 'yaml';
import { isAlias, isMap, isNode, isSeq, parseDocument, visit } from 'yaml';
import { matchLists, partOf } from './match.ts';
import type { Edit } from './source.ts';
import { NotInPlace, nameOfKey, sourceOf, withEdits } from './source.ts';
import { blockText, flowText, indented, onLines } from './write.ts';

export type Values = Readonly<Record<string, unknown>>;

/** What a file of one kind says, of plain values; null where they are none of that kind. */
export type SaysOf = (plain: unknown) => Values | null;

/**
 * A text that says `after`. A key that `saysOf` leaves out before and after is left as it stands, since it
 * says its default; one that is left out only after is taken out. A part that goes from one list to
 * another takes its lines along, and the comment beside it.
 *
 * Where a value stands in a way that cannot be changed in place, as behind an anchor, each key of the
 * whole that says something else is written anew. Throws a RangeError where the text is no such file.
 */
export function changedYaml(text: string, after: Values, saysOf: SaysOf): string {
  const whole = text.endsWith('\n') ? text : `${text}\n`;
  const document = parseDocument(whole);
  const before = saysOf(document.toJS());
  if (before === null) throw new RangeError('the text is not a file of this kind');
  const edited = editedInPlace(whole, document, before, after);
  // Looked at once more: what is written over a person's file says what it is to say.
  if (edited !== null && isDeepStrictEqual(saysOf(plainOf(edited)), after)) return edited;
  return rewritten(document, before, after);
}

function plainOf(text: string): unknown {
  const document = parseDocument(text);
  return document.errors.length > 0 ? null : document.toJS();
}

function rewritten(document: Document, before: Values, after: Values): string {
  for (const key of Object.keys(before)) if (!(key in after)) document.delete(key);
  for (const [key, value] of Object.entries(after)) {
    if (!isDeepStrictEqual(value, before[key])) {
      document.set(key, onLines(document.createNode(value)));
    }
  }
  return document.toString({ lineWidth: 0 });
}

function editedInPlace(
  text: string,
  document: Document,
  before: Values,
  after: Values,
): string | null {
  if (document.errors.length > 0 || isUnusual(document)) return null;
  try {
    return withEdits(text, editsOf(text, document.contents, before, after));
  } catch (error) {
    if (error instanceof NotInPlace) return null;
    throw error;
  }
}

/** Whether it has anchors, aliases or tags: a value of it is then not alone in saying what it says. */
function isUnusual(document: Document): boolean {
  let found = false;
  visit(document, {
    Node: (_, node) => {
      if (!isAlias(node) && node.anchor === undefined && node.tag === undefined) return undefined;
      found = true;
      return visit.BREAK;
    },
  });
  return found;
}

function editsOf(text: string, root: unknown, allBefore: Values, allAfter: Values): Edit[] {
  const source = sourceOf(text);
  const { lineStart, nextLine, columnOf, startOf, endOf, dashOf, commentAfter } = source;
  const edits: Edit[] = [];
  /** Done last, when it is known which lines have gone elsewhere. */
  const removals: (() => void)[] = [];
  const known = partsIn(root, allBefore);
  const staying = new Set(namesOfParts(allAfter));
  const takenAlong = new Set<string>();

  const edit = (start: number, end: number, words: string): void => {
    edits.push({ start, end, text: words });
  };

  /** `owner` is the column of the key or hyphen that the value belongs to. */
  const change = (node: unknown, before: unknown, after: unknown, owner: number | null): void => {
    if (isDeepStrictEqual(before, after)) return;
    if (isMap(node) && node.items.length > 0) {
      if (isValues(before) && isValues(after)) return changeMap(node, before, after);
      if (Array.isArray(after)) return becomeList(node, before, after);
    }
    if (isSeq(node) && node.items.length > 0 && Array.isArray(before)) {
      if (Array.isArray(after) && after.length > 0) return changeList(node, before, after);
      if (isValues(after)) return becomeOnly(node, before, after);
    }
    replace(node, after, owner);
  };

  /** A value on a line of its key, in the place of which another comes. */
  const replace = (node: unknown, after: unknown, owner: number | null): void => {
    if (isBlock(node)) throw new NotInPlace();
    const [start, end] = [startOf(node), endOf(node)];
    if (owner === null) return edit(start, end, flowText(after));
    const [first = '', rest = ''] = splitFirst(valueText(after, owner));
    // What comes on lines of its own leaves no blank behind its key.
    const from = first === '' ? start - /[ ]*$/.exec(text.slice(0, start))![0].length : start;
    edit(from, end, first);
    if (rest !== '') edit(nextLine(end), nextLine(end), rest);
  };

  const changeMap = (node: YAMLMap, before: Values, after: Values): void => {
    const isFlow = node.flow === true;
    const owner = isFlow ? null : columnOf(startOf(node.items[0]!.key));
    const names = node.items.map(({ key }) => nameOfKey(key));
    const gone = new Set<Pair>();
    for (const [i, pair] of node.items.entries()) {
      const name = names[i]!;
      if (isDeepStrictEqual(before[name], after[name])) continue;
      if (after[name] === undefined) gone.add(pair);
      else change(pair.value, before[name], after[name], owner);
    }
    const added = Object.entries(after).filter(
      ([name, value]) => !names.includes(name) && !isDeepStrictEqual(before[name], value),
    );
    if (gone.size === node.items.length) {
      if (!isFlow) throw new NotInPlace();
      return edit(startOf(node), endOf(node), flowText(Object.fromEntries(added)));
    }
    if (isFlow) {
      removeInFlow(
        node.items.map((pair) => ({ from: pair.key, to: pair.value, gone: gone.has(pair) })),
      );
      const end = endOf(node.items.at(-1)!.value);
      for (const [name, value] of added) {
        edit(end, end, `, ${flowText({ [name]: value }).slice(2, -2)}`);
      }
      return;
    }
    for (const pair of gone) removePair(pair);
    const end = nextLine(endOf(node));
    for (const [name, value] of added) edit(end, end, pairText(name, value, owner!));
  };

  const changeList = (
    node: YAMLSeq,
    before: readonly unknown[],
    after: readonly unknown[],
  ): void => {
    const { items } = node;
    if (items.length !== before.length) throw new NotInPlace();
    const matches = matchLists(before, after);
    if (node.flow === true) return changeFlowList(node, matches, before, after);
    const dash = columnOf(dashOf(items[0]));
    let at = lineStart(dashOf(items[0]));
    for (const { from, to } of matches) {
      if (to === null) removeItem(items[from!], before[from!]);
      else if (from === null) edit(at, at, itemText(after[to], dash));
      else change(items[from], before[from], after[to], dash);
      if (from !== null) at = nextLine(endOf(items[from]));
    }
  };

  const changeFlowList = (
    node: YAMLSeq,
    matches: ReturnType<typeof matchLists>,
    before: readonly unknown[],
    after: readonly unknown[],
  ): void => {
    const { items } = node;
    const stays = new Set(matches.flatMap(({ from, to }) => (to === null ? [] : (from ?? []))));
    if (stays.size === 0) return edit(startOf(node), endOf(node), flowText(after));
    removeInFlow(items.map((one, i) => ({ from: one, to: one, gone: !stays.has(i) })));
    let last = -1;
    for (const { from, to } of matches) {
      if (to !== null && from !== null) change(items[from], before[from], after[to], null);
      if (to !== null && from === null) {
        // What has no item before it that stays is written before the first that does.
        const next = startOf(items[Math.min(...stays)]);
        if (last === -1) edit(next, next, `${flowText(after[to])}, `);
        else edit(endOf(items[last]), endOf(items[last]), `, ${flowText(after[to])}`);
      }
      if (from !== null && stays.has(from)) last = from;
    }
  };

  /** Takes items out of brackets, each with the comma that follows it, or at the end with the one before. */
  const removeInFlow = (
    items: readonly { readonly from: unknown; readonly to: unknown; readonly gone: boolean }[],
  ): void => {
    const lastStaying = items.findLastIndex(({ gone }) => !gone);
    for (const [i, { from, gone }] of items.entries()) {
      if (gone && i < lastStaying) edit(startOf(from), startOf(items[i + 1]!.from), '');
    }
    if (lastStaying < items.length - 1) {
      edit(endOf(items[lastStaying]!.to), endOf(items.at(-1)!.to), '');
    }
  };

  /** Takes out whole lines. Comments on lines of their own stay, with others above and below them. */
  const removeLines = (start: number, end: number, above: string, below: () => string): void => {
    if (text.slice(lineStart(start), start).trim() !== '') throw new NotInPlace();
    const from = lineStart(start);
    const to = nextLine(end);
    removals.push(() => edit(from, to, above + source.commentLines(from, to) + below()));
  };

  /** What is said beside a part stays, even where its line cannot go along with it. */
  const leftBehind = (item: unknown, value: unknown): string => {
    const part = partOf(value);
    const comment = commentAfter(endOf(item));
    if (part === null || comment === '' || !staying.has(part) || takenAlong.has(part)) return '';
    return `${' '.repeat(columnOf(dashOf(item)))}${comment}\n`;
  };

  const removeItem = (item: unknown, value: unknown): void =>
    removeLines(dashOf(item), endOf(item), '', () => leftBehind(item, value));

  const removePair = ({ key, value }: Pair): void => {
    if (!isSeq(value) || value.flow === true) {
      return removeLines(startOf(key), endOf(value ?? key), '', () => '');
    }
    // What is said of a list of parts is said of parts that now lie elsewhere.
    const said = commentAfter(text.indexOf(':', endOf(key)) + 1);
    const line = said === '' ? '' : `${' '.repeat(columnOf(startOf(key)))}${said}\n`;
    removeLines(startOf(key), endOf(value), line, () =>
      value.items.map((item) => leftBehind(item, isNode(item) ? item.toJSON() : null)).join(''),
    );
  };

  /** One becomes several: what there is becomes an item of a list with the others. */
  const becomeList = (node: YAMLMap, before: unknown, after: readonly unknown[]): void => {
    const own = Math.max(
      0,
      after.findIndex((one) => isDeepStrictEqual(one, before)),
    );
    const [start, end] = [startOf(node), endOf(node)];
    const others = [after.slice(0, own), after.slice(own + 1)] as const;
    if (node.flow === true) {
      edit(start, start, ['[', ...others[0].map((one) => `${flowText(one)},`), ''].join(' '));
      change(node, before, after[own], null);
      return edit(end, end, `${others[1].map((one) => `, ${flowText(one)}`).join('')} ]`);
    }
    const column = columnOf(start);
    if (text.slice(lineStart(start), start).trim() !== '') throw new NotInPlace();
    const first = lineStart(start);
    edit(first, first, others[0].map((one) => itemText(one, column)).join(''));
    edit(start, start, '- ');
    for (let line = nextLine(start); line < nextLine(end); line = nextLine(line)) {
      edit(line, line, '  ');
    }
    change(node, before, after[own], column + 2);
    const last = nextLine(end);
    edit(last, last, others[1].map((one) => itemText(one, column)).join(''));
  };

  /** Several become one. */
  const becomeOnly = (node: YAMLSeq, before: readonly unknown[], after: Values): void => {
    const own = before.findIndex((one) => isDeepStrictEqual(one, after));
    const item = node.items[own];
    if (!isMap(item) || item.items.length === 0) throw new NotInPlace();
    if (node.flow === true) {
      return edit(startOf(node), endOf(node), text.slice(startOf(item), endOf(item)));
    }
    const [start, end] = [lineStart(dashOf(node.items[0])), nextLine(endOf(node))];
    const dash = dashOf(item);
    const [from, to] = [lineStart(dash), nextLine(endOf(item))];
    if (text.slice(from, dash).trim() !== '') throw new NotInPlace();
    const width = startOf(item) - dash;
    const lines = text.slice(startOf(item), to).split(/(?<=\n)/);
    const shifted = lines.map((line, i) =>
      i === 0 || !line.startsWith(' '.repeat(width)) ? line : line.slice(width),
    );
    edit(start, from, source.commentLines(start, from));
    edit(from, to, ' '.repeat(columnOf(dash)) + shifted.join(''));
    edit(to, end, source.commentLines(to, end));
  };

  /** A value behind its key: on the same line, or on lines of its own. */
  const valueText = (value: unknown, owner: number): string => {
    const items = listOfParts(value);
    if (items === null) return indented(blockText({ k: value }).slice(2), owner);
    return `\n${items.map((one) => itemText(one, owner + 2)).join('')}`;
  };
  const pairText = (name: string, value: unknown, owner: number): string => {
    if (listOfParts(value) === null) {
      return ' '.repeat(owner) + indented(blockText({ [name]: value }), owner);
    }
    const key = blockText({ [name]: 0 }).replace(/ 0\n$/, '');
    return ' '.repeat(owner) + key + valueText(value, owner);
  };

  /** An item of a block list: where the part lay elsewhere before, the lines that it had there, changed. */
  const itemText = (value: unknown, dash: number): string => {
    const part = partOf(value);
    const old = part === null ? undefined : known.get(part);
    if (part === null || old === undefined) {
      return ' '.repeat(dash) + indented(blockText([value]), dash);
    }
    takenAlong.add(part);
    const from = lineStart(old.dash);
    const to = nextLine(endOf(old.node));
    const changed = editsOf(text, old.node, old.value, value as Values);
    const own = withEdits(
      text.slice(from, to),
      changed.map((one) => ({ ...one, start: one.start - from, end: one.end - from })),
    );
    const shift = dash - (old.dash - from);
    return own
      .split(/(?<=\n)/)
      .map((line) =>
        shift > 0 ? ' '.repeat(shift) + line : line.replace(new RegExp(`^ {0,${-shift}}`), ''),
      )
      .join('');
  };

  /** Where the parts stand that may go elsewhere with their lines. */
  function partsIn(node: unknown, values: unknown): Map<string, KnownPart> {
    const found = new Map<string, KnownPart>();
    const walk = (one: unknown, value: unknown): void => {
      if (isMap(one) && isValues(value)) {
        for (const pair of one.items) walk(pair.value, value[nameOfKey(pair.key)]);
      }
      if (!isSeq(one) || !Array.isArray(value)) return;
      for (const [i, item] of one.items.entries()) {
        const part = partOf(value[i]);
        if (part === null || one.flow === true || !isValues(value[i])) walk(item, value[i]);
        else if (text.slice(lineStart(dashOf(item)), dashOf(item)).trim() === '') {
          found.set(part, { node: item, value: value[i], dash: dashOf(item) });
        }
      }
    };
    walk(node, values);
    return found;
  }

  change(root, allBefore, allAfter, 0);
  for (const remove of removals) remove();
  return edits;
}

interface KnownPart {
  readonly node: unknown;
  readonly value: Values;
  readonly dash: number;
}

function isValues(value: unknown): value is Values {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isBlock(node: unknown): boolean {
  return (isMap(node) || isSeq(node)) && node.flow !== true;
}

function listOfParts(value: unknown): readonly unknown[] | null {
  return Array.isArray(value) && value.length > 0 && partOf(value[0]) !== null ? value : null;
}

/** The labels of all parts that some values name, however deep. */
function namesOfParts(value: unknown): string[] {
  const part = partOf(value);
  if (part !== null) return [part];
  return typeof value === 'object' && value !== null
    ? Object.values(value).flatMap(namesOfParts)
    : [];
}

/** The first line, without its blanks and its break, and the lines after it. */
function splitFirst(text: string): [string, string] {
  const end = text.indexOf('\n');
  return [text.slice(0, end).trim(), text.slice(end + 1)];
}
