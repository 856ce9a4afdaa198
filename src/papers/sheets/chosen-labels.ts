import type { LabelStock } from '../../pattern/shop/label-stock.ts';
import { placeOfLabel } from '../../pattern/shop/label-stock.ts';
import type { JoinedPage, PagePiece, PdfSource } from '../documents/joined-pdf.ts';

/**
 * Some of the labels of a run, as they stand in its PDF, on as few sheets as hold them. `chosen`: their numbers
 * there, from 0, in the order in which they are printed. `begin`: how many places of the first sheet are used
 * already.
 */
export function chosenLabels(
  source: PdfSource,
  stock: LabelStock,
  chosen: readonly number[],
  begin: number,
): JoinedPage[] {
  const pages: PagePiece[][] = [];
  for (const [i, number] of chosen.entries()) {
    const from = placeOfLabel(stock, number);
    const to = placeOfLabel(stock, begin + i);
    const own = (pages[to.sheet] ??= []);
    const piece = number % (stock.columns * stock.rows);
    own.push({ page: from.sheet, piece, from, to, ...stock.label });
  }
  return pages.map((pieces) => ({ source, pieces }));
}
