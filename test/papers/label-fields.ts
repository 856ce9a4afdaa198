import type { LabelStock } from '../../src/pattern/shop/label-stock.ts';
import type { Field, Word } from './pdf-tools.ts';

/** Where the nth label of a sheet lies, counted row by row from 0. */
export function fieldOf(n: number, stock: LabelStock): Omit<Field, 'page'> {
  const { label: size, columns, gapAcross, gapDown, left, top } = stock;
  return {
    x: left + (n % columns) * (size.width + gapAcross),
    y: top + Math.floor(n / columns) * (size.height + gapDown),
    ...size,
  };
}

/** Which label of a sheet a word lies on, counted row by row; -1: on none. */
export function cellOf({ left, right, top, bottom }: Word, stock: LabelStock): number {
  return Array.from({ length: stock.columns * stock.rows }, (_, n) => fieldOf(n, stock)).findIndex(
    ({ x, y, width, height }) =>
      left >= x && right <= x + width && top >= y - 0.5 && bottom <= y + height,
  );
}

/** All that is printed on the label of a part, found by its name, which comes first, its order and its set. */
export function saidOnLabel(words: readonly Word[], label: string, stock: LabelStock): string {
  const [name, set, order] = label.split('.');
  const isIt = new RegExp(`^(RECUT )?${name}(?= ).* order ${order}, set ${set}(?=[ ,]|$)`);
  const fields = new Map<string, Word[]>();
  for (const word of words) {
    const field = `${word.page} ${cellOf(word, stock)}`;
    fields.set(field, [...(fields.get(field) ?? []), word]);
  }
  return [...fields.values()].map(inLines).find((text) => isIt.test(text))!;
}

/** Words as they are read, line by line. */
function inLines(words: readonly Word[]): string {
  const middle = ({ top, bottom }: Word): number => (top + bottom) / 2;
  // Words of one line have one middle; lines are 2.5 mm apart at least.
  const sorted = words.toSorted((a, b) =>
    Math.abs(middle(a) - middle(b)) < 1 ? a.left - b.left : middle(a) - middle(b),
  );
  return sorted.map(({ text }) => text).join(' ');
}
