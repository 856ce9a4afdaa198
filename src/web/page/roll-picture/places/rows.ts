import type { Point } from '../../../../geometry/paths/point.ts';
import type { Extent, Size, View } from '../../picture/view.ts';
import { toDrawn } from '../../picture/view.ts';

/**
 * How a roll is set out: as one band, or in rows below each other. A view shows this sheet of rows; its frame is
 * that of the first row, and the others lie below it.
 */
export interface Rows {
  readonly count: number;
  /** How much of the roll is in each row, mm; Infinity for one band. */
  readonly each: number;
  /** From one row to the next, mm. */
  readonly pitch: number;
  /** The width of the roll, mm. */
  readonly width: number;
}

/** The roll as one band. */
export function oneBand(width: number): Rows {
  return { count: 1, each: Infinity, pitch: width, width };
}

/** Rows lower than this, pixels, are hard to read: then the sheet is higher than its window. */
const lowest = 150;
/** Nobody finds their way through more rows than this. */
const mostRows = 60;

/**
 * The rows in which so much of a roll (`reach`, mm) is drawn largest in a window; `head` pixels are left above each
 * row. Where all rows would be too low to read, they are as many as keep them readable.
 */
export function rowsFor(
  reach: number,
  width: number,
  size: Size,
  margin: number,
  head: number,
): Rows {
  const across = Math.max(1, size.width - 2 * margin);
  const high = size.height - 2 * margin;
  const scaleIn = (count: number): number =>
    Math.min((across * count) / reach, (high / count - head) / width);
  let count = 1;
  while (count < mostRows && scaleIn(count + 1) > scaleIn(count)) count++;
  let scale = scaleIn(count);
  if (count > 1 && scale * width < lowest) {
    scale = lowest / width;
    count = Math.min(mostRows, Math.ceil((reach * scale) / across));
    scale = (across * count) / reach;
  }
  if (count === 1 || !(scale > 0)) return oneBand(width);
  return { count, each: reach / count, pitch: width + head / scale, width };
}

/** Whether names can be read in rows at this scale, pixels to a mm. */
export function isReadable({ width }: Rows, scale: number): boolean {
  return scale * width > 0.95 * lowest;
}

/** The extent of the whole sheet. `reach` is how far one band goes, mm. */
export function sheetExtent({ count, each, pitch, width }: Rows, reach: number): Extent {
  if (count === 1) return [0, 0, reach, width];
  return [0, -(count - 1) * pitch, each, width];
}

/** The view of the roll in one row, where the sheet is seen in `sheet`. */
export function rowView(rows: Rows, sheet: View, row: number): View {
  if (row === 0) return sheet;
  return { ...sheet, left: sheet.left + row * rows.each, top: sheet.top + row * rows.pitch };
}

/** The view of the sheet, where the roll in a row is seen in `view`. */
export function sheetView(rows: Rows, view: View, row: number): View {
  if (row === 0) return view;
  return { ...view, left: view.left - row * rows.each, top: view.top - row * rows.pitch };
}

/** The row that a place along the roll is in. What is past the last one's end is in the last one. */
export function rowAlong({ count, each }: Rows, x: number): number {
  if (count === 1) return 0;
  return Math.max(0, Math.min(count - 1, Math.floor(x / each)));
}

/** The row whose band is nearest to a point of the window. */
export function rowAt(rows: Rows, sheet: View, at: Point): number {
  if (rows.count === 1) return 0;
  const { y } = toDrawn(sheet, at);
  // The room between two rows belongs to the one below: its ruler is there.
  return Math.max(0, Math.min(rows.count - 1, Math.floor((rows.pitch - y) / rows.pitch)));
}

/** The rows of which something is in the window. */
export function rowsSeen(rows: Rows, sheet: View, size: Size): number[] {
  const first = rowAt(rows, sheet, { x: 0, y: 0 });
  const last = rowAt(rows, sheet, { x: 0, y: size.height });
  return Array.from({ length: last - first + 1 }, (_, i) => first + i);
}

/** A stretch along the roll, mm. */
export type Stretch = readonly [from: number, to: number];

/** What of the roll is in the window, row by row; `end` is where the roll ends, mm. */
export function stretchesSeen(rows: Rows, sheet: View, size: Size, end: number): Stretch[] {
  return rowsSeen(rows, sheet, size).flatMap((row): Stretch[] => {
    const { left, scale } = rowView(rows, sheet, row);
    const [begin, stop] = rows.count === 1 ? [0, end] : [row * rows.each, (row + 1) * rows.each];
    const from = Math.max(begin, left);
    const to = Math.min(stop, end, left + size.width / scale);
    return to > from ? [[from, to]] : [];
  });
}
