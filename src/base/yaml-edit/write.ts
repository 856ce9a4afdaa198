import type { Node } from 'yaml';
import { Document, isMap, isSeq, visit } from 'yaml';

/** A value as lines of YAML: orders, pins, ticks and corners each on one line. Ends with a line break. */
export function blockText(value: unknown, comment?: string): string {
  const document = new Document(value);
  if (comment !== undefined) document.commentBefore = ` ${comment}`;
  return onLines(document).toString({ lineWidth: 0 });
}

/** A value as it is written inside brackets. */
export function flowText(value: unknown): string {
  const document = new Document([value]);
  visit(document, {
    Collection: (_, node) => {
      node.flow = true;
    },
  });
  return document.toString({ lineWidth: 0 }).trim().slice(2, -2);
}

/** Lines, all but the first moved to the right by so many blanks. */
export function indented(lines: string, by: number): string {
  return lines.replaceAll(/\n(?=[^\n])/g, `\n${' '.repeat(by)}`);
}

/** Orders, pins, ticks and corners each on one line. */
export function onLines<T extends Node | Document>(written: T): T {
  visit(written, {
    Collection(_, node) {
      const inner: unknown[] = isMap(node) ? node.items.map(({ value }) => value) : node.items;
      const isLeaf = inner.every((one) => !isMap(one) && !(isSeq(one) && one.items.some(isNested)));
      if (isLeaf && isListed(node)) node.flow = true;
    },
  });
  return written;
}

/** A coordinate pair is short enough to stay inside; longer lists are not. */
function isNested(one: unknown): boolean {
  return isMap(one) || isSeq(one);
}

function isListed(node: Node): boolean {
  if (isSeq(node)) return true;
  return isMap(node) && ['part', 'order', 'step'].some((key) => node.has(key));
}
