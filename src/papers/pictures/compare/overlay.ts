import { polyline } from '../../../geometry/paths/path.ts';
import type { Entry } from '../../svg/legend.ts';
import { drawLegend, legendHeight } from '../../svg/legend.ts';
import { escapeXml, mm, pathData, svgPage } from '../../svg/svg.ts';
import { counted } from '../../../base/wording.ts';
import { wrapped } from '../../svg/wrap.ts';
import type { Comparable } from '../../../compare/comparable.ts';
import type { Comparison } from '../../../compare/compare.ts';
import type { Difference } from '../../../compare/difference.ts';
import { drawSheet, page, strokes, type } from './overlay-sheet.ts';

/** So many differences are listed; more are left to the table. */
const mostTold = 60;

/**
 * A picture of two inputs on top of each other. What is the same is thin. What differs is dashed as it
 * was and solid as it is. Each difference has a numbered ring and a line in a list. Only sheets with
 * differences are shown, below each other. Its unit is mm on paper.
 */
export function overlayPicture(
  comparison: Comparison,
  before: Comparable,
  after: Comparable,
): string {
  const { differences } = comparison;
  const told = differences.slice(0, mostTold);
  const numbers = new Map(told.map((one, i) => [one, i + 1]));
  const sheets = [...new Set(told.flatMap(({ sheet }) => (sheet === null ? [] : [sheet])))];
  const parts: string[] = [];
  let top = 16;
  for (const sheet of sheets) {
    const own = told.filter((one) => one.sheet === sheet);
    const drawn = drawSheet(sheet, own, before, after, numbers);
    parts.push(`<g transform="translate(0 ${mm(top)})">${drawn.svg}</g>`);
    top += drawn.height + 5;
  }
  const legend = legendEntries();
  parts.push(drawLegend(legend, 0, top, page.width, type));
  top += legendHeight(legend, page.width, type) + 3;
  const list = drawList(told, differences.length, numbers, top);
  parts.push(list.svg);
  const height = top + list.height;
  return svgPage(
    { width: page.width, height, type },
    `${comparison.before} and ${comparison.after}`,
    [
      `<rect width="${page.width}" height="${mm(height)}" fill="#ffffff"/>`,
      `<text y="5" font-size="5" font-weight="bold">${counted(differences.length, 'difference')}</text>`,
      `<text y="9.5">before: ${escapeXml(shortened(comparison.before))}</text>`,
      `<text y="13.3">after: ${escapeXml(shortened(comparison.after))}</text>`,
      ...parts,
    ],
  );
}

/** Shortens a long name at its beginning, because its end tells it from others. */
function shortened(name: string): string {
  const letters = [...name];
  return letters.length <= 95 ? name : `…${letters.slice(-94).join('')}`;
}

function legendEntries(): Entry[] {
  const sample = polyline(
    [
      { x: 0, y: -0.9 },
      { x: 5.8, y: -0.9 },
    ],
    false,
  );
  const entry = (style: string, words: string): Entry => ({
    mark: `<path d="${pathData(sample)}" ${style}/>`,
    words,
  });
  return [
    entry(strokes.same, 'the same in both'),
    entry(strokes.before, 'as it was, dashed'),
    entry(strokes.after, 'as it is, solid'),
  ];
}

function drawList(
  told: readonly Difference[],
  count: number,
  numbers: ReadonlyMap<Difference, number>,
  top: number,
): { svg: string; height: number } {
  const line = 1.3 * type;
  let y = top;
  const rows = told.map((one) => {
    const label = one.label ?? (one.sheet === null || one.sheet === '' ? 'the whole' : one.sheet);
    const lines = wrapped(`${label}: ${one.message}`, (page.width - 9) / (0.9 * type));
    const at = y;
    y += lines.length * line + 0.5;
    return `<text x="6" y="${mm(at + line)}" text-anchor="end" font-weight="bold">${numbers.get(one)!}</text>${lines.map((words, k) => `<text x="8.5" y="${mm(at + (k + 1) * line)}">${escapeXml(words)}</text>`).join('')}`;
  });
  const more =
    count > told.length
      ? [`<text x="8.5" y="${mm(y + line)}">and ${count - told.length} more: see the table</text>`]
      : [];
  return { svg: [...rows, ...more].join('\n'), height: y - top + (more.length > 0 ? line : 0) + 3 };
}
