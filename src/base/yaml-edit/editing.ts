import { isMap, isSeq } from 'yaml';
import { partOf } from './match.ts';
import type { Edit, Source } from './source.ts';
import { nameOfKey, sourceOf } from './source.ts';

/** Plain values by their keys. */
export type Values = Readonly<Record<string, unknown>>;

export function isValues(value: unknown): value is Values {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A text while it is edited. */
export interface Editing extends Source {
  readonly edits: Edit[];
  /** Replaces the text from `start` up to `end`. */
  readonly edit: (start: number, end: number, words: string) => void;
  /** Done last: only then it is known which parts have taken their lines along to another list. */
  readonly removals: (() => void)[];
  /** Parts that stand on lines of their own, by their labels. */
  readonly parts: ReadonlyMap<string, PartLines>;
  /** Labels of the parts that the text is to name in the end. */
  readonly staying: ReadonlySet<string>;
  /** Labels of parts whose lines have been written elsewhere. */
  readonly takenAlong: Set<string>;
}

/** Where an item of a block list stands that is a part, and what it says. */
interface PartLines {
  readonly node: unknown;
  readonly value: Values;
  /** The place of its hyphen. */
  readonly dash: number;
}

/** Begins to edit a text, in which `root` says `before` and is to say `after`. */
export function beginEditing(text: string, root: unknown, before: Values, after: Values): Editing {
  const source = sourceOf(text);
  const edits: Edit[] = [];
  return {
    ...source,
    edits,
    edit: (start, end, words) => {
      edits.push({ start, end, text: words });
    },
    removals: [],
    parts: partsIn(source, root, before),
    staying: new Set(labelsIn(after)),
    takenAlong: new Set(),
  };
}

function partsIn(source: Source, root: unknown, values: Values): Map<string, PartLines> {
  const found = new Map<string, PartLines>();
  const walk = (node: unknown, value: unknown): void => {
    if (isMap(node) && isValues(value)) {
      for (const pair of node.items) walk(pair.value, value[nameOfKey(pair.key)]);
    }
    if (!isSeq(node) || !Array.isArray(value)) return;
    for (const [i, item] of node.items.entries()) {
      const own: unknown = value[i];
      const part = partOf(own);
      if (part === null || node.flow === true || !isValues(own)) {
        walk(item, own);
        continue;
      }
      const dash = source.dashOf(item);
      if (source.isFirstOnLine(dash)) found.set(part, { node: item, value: own, dash });
    }
  };
  walk(root, values);
  return found;
}

/** The labels of all parts that some values name, however deep. */
function labelsIn(value: unknown): string[] {
  const part = partOf(value);
  if (part !== null) return [part];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(labelsIn) : [];
}
