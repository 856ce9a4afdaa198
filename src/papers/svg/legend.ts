import { escapeXml, mm } from './svg.ts';

/** A mark and what it means. */
export interface Entry {
  /**
   * The drawing of the mark. Its baseline begins at the origin; it is two characters wide and one high.
   */
  readonly mark: string;
  readonly words: string;
}

/** Width of a character of a sans serif, as a share of the type's height; estimated generously. */
const characterWidth = 0.62;
const lineHeight = 1.5;

/** The number of columns, at most four: as many as the longest words allow. */
function columnsOf(entries: readonly Entry[], width: number, type: number): number {
  const longest = Math.max(...entries.map(({ words }) => words.length));
  const column = (3.5 + longest * characterWidth) * type;
  return Math.min(4, Math.max(1, Math.floor(width / column)));
}

/** The height of a legend, in the unit of width and type. */
export function legendHeight(entries: readonly Entry[], width: number, type: number): number {
  if (entries.length === 0) return 0;
  return Math.ceil(entries.length / columnsOf(entries, width, type)) * lineHeight * type;
}

/** Draws entries row by row, below and to the right of a corner. */
export function drawLegend(
  entries: readonly Entry[],
  left: number,
  top: number,
  width: number,
  type: number,
): string {
  const columns = columnsOf(entries, width, type);
  return entries
    .map(({ mark, words }, i) => {
      const x = left + (i % columns) * (width / columns);
      const y = top + (Math.floor(i / columns) * lineHeight + 1) * type;
      return `<g transform="translate(${mm(x)} ${mm(y)})">${mark}<text x="${mm(2.5 * type)}">${escapeXml(words)}</text></g>`;
    })
    .join('\n');
}
