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

/** All that is printed on the label of a part, by the label that stands at its foot. */
export function saidOnLabel(words: readonly Word[], label: string, stock: LabelStock): string {
  const foot = words.find(({ text }) => text === label)!;
  const own = words.filter(
    (word) => word.page === foot.page && cellOf(word, stock) === cellOf(foot, stock),
  );
  const middle = ({ top, bottom }: Word): number => (top + bottom) / 2;
  // Words of one line have one middle; lines are 2.5 mm apart at least.
  own.sort((a, b) =>
    Math.abs(middle(a) - middle(b)) < 1 ? a.left - b.left : middle(a) - middle(b),
  );
  return own.map(({ text }) => text).join(' ');
}
