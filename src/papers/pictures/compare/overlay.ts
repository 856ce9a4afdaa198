import { polyline } from '../../../geometry/paths/path.ts';
import type { Entry } from '../../svg/legend.ts';
import { drawLegend, legendHeight } from '../../svg/legend.ts';
import { escapeXml, mm, pathData, ringed, svgPage } from '../../svg/svg.ts';
import { counted } from '../../../base/wording.ts';
import { wrapped } from '../../svg/wrap.ts';
import type { Comparable } from '../../../compare/comparable.ts';
import type { Comparison } from '../../../compare/compare.ts';
import type { Difference } from '../../../compare/difference.ts';
import type { Line } from '../../../compare/lines.ts';
import { ranksOf } from '../../../compare/lines.ts';
import { drawCloseUps } from './close-ups.ts';
import { drawSheet, isOfAll, page, strokes, type } from './overlay-sheet.ts';

/** So many lines are listed; more are left to the table. */
const mostTold = 60;
/** So many things of one line are ringed, and so many differences enlarged. */
const mostRings = 4;
const mostEnlarged = 8;

/** A line with its number in the picture. */
interface NumberedLine {
  readonly number: number;
  readonly heading: string | null;
  readonly line: Line;
}

/**
 * A picture of two inputs on top of each other. What is the same is thin. What differs is dashed as it
 * was and solid as it is. Each line of the list has a number, which stands beside the places that it tells of.
 * Only sheets with differences are shown, below each other; then features enlarged, before and after. Its unit is mm
 * on paper.
 */
export function overlayPicture(
  comparison: Comparison,
  before: Comparable,
  after: Comparable,
): string {
  const { differences, sentence } = comparison;
  const lines = numberedLines(differences);
  const told = lines.slice(0, mostTold);
  const own = told.flatMap(({ line }) => line.differences);
  const numbers = new Map(
    told.flatMap(({ number, line }) =>
      line.differences
        .filter(({ at }) => at !== null)
        .slice(0, mostRings)
        .map((one): [Difference, number] => [one, number]),
    ),
  );
  const parts: string[] = [];
  const said = wrapped(sentence, page.width / (0.9 * type));
  let top = 17.5 + said.length * 1.3 * type;
  const legend = legendEntries();
  parts.push(drawLegend(legend, 0, top, page.width, type));
  top += legendHeight(legend, page.width, type) + 3;
  for (const sheet of sheetsOf(own, before, after)) {
    const drawn = drawSheet(
      sheet,
      own.filter((one) => one.sheet === sheet || (one.sheet === null && isOfAll(one))),
      before,
      after,
      numbers,
    );
    parts.push(`<g transform="translate(0 ${mm(top)})">${drawn.svg}</g>`);
    top += drawn.height + 5;
  }
  const closeUps = told
    .flatMap(({ number, line }) => {
      const difference = line.differences.find(
        ({ pair, reach }) => pair !== null && reach !== null,
      );
      return difference === undefined ? [] : [{ number, difference }];
    })
    .slice(0, mostEnlarged);
  const enlarged = drawCloseUps(closeUps, top);
  parts.push(enlarged.svg);
  top += enlarged.height + (closeUps.length === 0 ? 0 : 3);
  const list = drawList(told, lines.length, top);
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
      ...said.map(
        (words, i) => `<text y="${mm(17.5 + i * 1.3 * type)}">${escapeXml(words)}</text>`,
      ),
      ...parts,
    ],
  );
}

function numberedLines(differences: readonly Difference[]): NumberedLine[] {
  return ranksOf(differences)
    .flatMap(({ heading, lines }) =>
      lines.map((line, i) => ({ heading: i === 0 ? heading : null, line })),
    )
    .map((one, i) => ({ ...one, number: i + 1 }));
}

/** The sheets on which something is seen: of what has become of everything, all. */
function sheetsOf(own: readonly Difference[], before: Comparable, after: Comparable): string[] {
  const isAll = own.some((one) => one.sheet === null && isOfAll(one));
  const all = [...before.items, ...after.items].map(({ sheet }) => sheet);
  const seen = own.flatMap(({ sheet, at, kind, label }) =>
    sheet !== null && (at !== null || isOfAll({ kind, label })) ? [sheet] : [],
  );
  return [...new Set(isAll ? all : seen)];
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
    {
      mark: ringed('1', { x: 2.5, y: -0.9 }, { radius: 2, weight: 0.3, type }),
      words: 'number of the line below',
    },
  ];
}

function drawList(
  told: readonly NumberedLine[],
  count: number,
  top: number,
): { svg: string; height: number } {
  const step = 1.3 * type;
  let y = top;
  const rows = told.map(({ number, heading, line }) => {
    const title =
      heading === null
        ? ''
        : `<text y="${mm(y + 1.4 * step)}" font-weight="bold">${escapeXml(heading)}</text>`;
    if (heading !== null) y += 1.6 * step;
    const lines = wrapped(`${line.where}: ${line.words}`, (page.width - 9) / (0.9 * type));
    const at = y;
    y += lines.length * step + 0.5;
    return `${title}<text x="6" y="${mm(at + step)}" text-anchor="end" font-weight="bold">${number}</text>${lines.map((words, k) => `<text x="8.5" y="${mm(at + (k + 1) * step)}">${escapeXml(words)}</text>`).join('')}`;
  });
  const more =
    count > told.length
      ? [`<text x="8.5" y="${mm(y + step)}">and ${count - told.length} more: see the table</text>`]
      : [];
  return { svg: [...rows, ...more].join('\n'), height: y - top + (more.length > 0 ? step : 0) + 3 };
}
