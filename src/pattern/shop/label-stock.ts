import { z } from 'zod';
import { titleText } from '../../base/names.ts';
import { readNamed } from '../../base/named-file.ts';
import type { Place } from '../../base/findings.ts';
import { join } from 'node:path';

const mm = z.number().positive().max(2000);
const space = z.number().min(0).max(500);

const sheet = z.strictObject({
  title: titleText,
  sheet: z.strictObject({ width: mm, height: mm }).describe('mm'),
  columns: z.number().int().min(1).max(20),
  rows: z.number().int().min(1).max(50),
  label: z.strictObject({ width: mm.min(45), height: mm.min(30) }).describe('mm'),
  left: space.describe('mm from the sheet’s left edge to the first label'),
  top: space.describe('mm from the sheet’s top edge to the first label'),
  gapAcross: space.describe('mm between two labels side by side'),
  gapDown: space.describe('mm between two labels one above the other'),
});

/** shared/labels/<name>.yaml: a sheet of labels as it is bought. */
export const labelStockSchema = sheet.superRefine((stock, context) => {
  const { columns, rows, label, left, top, gapAcross, gapDown } = stock;
  const right = left + columns * label.width + (columns - 1) * gapAcross;
  const bottom = top + rows * label.height + (rows - 1) * gapDown;
  const tooLarge = (path: string, reach: number, size: number): void =>
    context.addIssue({
      code: 'custom',
      path: [path],
      message: `the labels reach to ${reach.toFixed(1)} mm, and the sheet ends at ${size} mm`,
    });
  if (right > stock.sheet.width + 0.05) tooLarge('columns', right, stock.sheet.width);
  if (bottom > stock.sheet.height + 0.05) tooLarge('rows', bottom, stock.sheet.height);
});

export type LabelStock = z.infer<typeof sheet>;

/** The labels used if the run file names none: ten on A4, large enough to be read at arm's length. */
export const defaultLabelStock: LabelStock = {
  title: 'A4, 10 labels of 99.1 x 57 mm',
  sheet: { width: 210, height: 297 },
  columns: 2,
  rows: 5,
  label: { width: 99.1, height: 57 },
  left: 4.65,
  top: 6,
  gapAcross: 2.5,
  gapDown: 0,
};

/** Reads shared/labels/<name>.yaml. `namedAt` is the place that names it. Throws a Refusal. */
export function readLabelStock(sharedFolder: string, name: string, namedAt: Place): LabelStock {
  return readNamed(join(sharedFolder, 'labels'), name, labelStockSchema, 'label sheet', namedAt)
    .value;
}

/** Where a label is: the number of its sheet, from 0, and its upper left corner there, mm from that of the sheet. */
interface LabelPlace {
  readonly sheet: number;
  readonly x: number;
  readonly y: number;
  /** Whether it is the first of its sheet. */
  readonly isFirst: boolean;
}

/** The place of a label by its number, from 0: row by row, sheet by sheet. */
export function placeOfLabel(
  { columns, rows, left, top, label, gapAcross, gapDown }: LabelStock,
  index: number,
): LabelPlace {
  const own = index % (columns * rows);
  return {
    sheet: Math.floor(index / (columns * rows)),
    x: left + (own % columns) * (label.width + gapAcross),
    y: top + Math.floor(own / columns) * (label.height + gapDown),
    isFirst: own === 0,
  };
}
