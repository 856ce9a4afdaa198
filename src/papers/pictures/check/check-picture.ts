import { basename } from 'node:path';
import type { Finding, Severity } from '../../../base/findings.ts';
import { wordOptions } from '../../../pattern/choice.ts';
import type { PatternSet } from '../../../pattern/set.ts';
import type { PieceCell } from './check-cells.ts';
import { cellsOf, drawCell } from './check-cells.ts';
import type { FindingGroup, ListedFinding } from './finding-list.ts';
import { listedWords, listFindings, totalWords } from './finding-list.ts';
import { edgeKey } from './drawn-piece.ts';
import { drawRing, ringRadius } from './finding-marks.ts';
import { escapeXml, mm, rect, svgPage } from '../../svg/svg.ts';
import { wrapped } from '../../svg/wrap.ts';
import { drawOverview } from '../unexplained.ts';

/** Width of the page, A4 across, mm. It is as long as necessary. */
const page = { width: 297, margin: 10 };
const inner = page.width - 2 * page.margin;
const type = 3.2;
const lineHeight = 1.4 * type;
/** Distance between pieces, mm. */
const gap = 4;

/**
 * One SVG with every piece of a set as its block draws it. Each finding is marked at its place by a
 * number in a ring, and below the pieces all findings stand in words. Rings are full for errors, open for
 * warnings, broken for notes. Numbers are those of listFindings. A finding without a place stands behind
 * the name of its piece. What lies in no outline is shown below the pieces, while the set asks about it. Sizes
 * are mm on the page.
 */
export function checkPicture(
  patterns: Pick<PatternSet, 'content' | 'pieces' | 'leftOut'>,
  findings: readonly Finding[],
): string {
  const { content, pieces } = patterns;
  const groups = listFindings(patterns, findings);
  const names = Object.keys(content.pieces);
  const cells = names.map((name) => ({
    name,
    piece: pieces.find((piece) => piece.name === name) ?? null,
    findings: groups.find((group) => group.piece === name)?.findings ?? [],
  }));
  const head = drawHead(content, totalWords(groups, names.length));
  const rows = drawRows(cellsOf(cells, inner), head.bottom + gap);
  const leftOut = drawLeftOut(patterns, rows.bottom + gap);
  const list = drawList(groups, leftOut.bottom + gap);
  const height = list.bottom + page.margin;
  return svgPage({ width: page.width, height, type }, `Findings on ${content.title}`, [
    rect(0, 0, page.width, height, 'fill="#ffffff"'),
    head.svg,
    rows.svg,
    leftOut.svg,
    list.svg,
  ]);
}

/** What has been drawn, and where on the page it ends, mm. */
interface DrawnStretch {
  readonly svg: string;
  readonly bottom: number;
}

/** The title, the totals and the legends of rings and edges. */
function drawHead(content: PatternSet['content'], total: string): DrawnStretch {
  const { title } = content;
  const size = 5.5;
  const lines = wrapped(title, inner / size);
  const top = page.margin;
  const titles = lines.map((line, i) =>
    textLine(
      page.margin,
      top + (i + 0.8) * 1.2 * size,
      line,
      `font-size="${size}" font-weight="bold"`,
    ),
  );
  const y = top + lines.length * 1.2 * size + 5;
  const entries = (['error', 'warning', 'note'] as const).map((severity, i) => {
    const x = page.width - page.margin - 72 + i * 25;
    return ringEntry(severity, x, y);
  });
  const key = edgeKey(page.margin, y + ringRadius, inner, type);
  const bottom = y + ringRadius + key.height;
  const notes = howToRead(content).flatMap((text) => wrapped(text, (boldness * inner) / type));
  const svg = [
    ...titles,
    textLine(page.margin, y, total),
    ...entries,
    key.svg,
    ...notes.map((text, i) => textLine(page.margin, bottom + (i + 1) * lineHeight, text)),
  ].join('\n');
  return { svg, bottom: bottom + notes.length * lineHeight };
}

/** How places are given, and what is shown as it is usual because an order may choose otherwise. */
function howToRead(content: PatternSet['content']): string[] {
  const usual = new Map(
    Object.entries(content.options ?? {}).map(([name, one]) => [name, one.default] as const),
  );
  const options = wordOptions(content, usual);
  return [
    'Places are mm in the drawing of the piece, across and upwards, as the figures beside it. All heel pads are shown; an order that says nothing gets the driver’s.',
    ...(options === '' ? [] : [`Shown with the options that are usual: ${options}.`]),
  ];
}

function ringEntry(severity: Severity, x: number, y: number): string {
  const ring = drawRing(1, severity, { x, y: y - 0.35 * type });
  return ring + textLine(x + ringRadius + 1.2, y, severity);
}

function textLine(x: number, y: number, text: string, attributes = ''): string {
  const more = attributes === '' ? '' : ` ${attributes}`;
  return `<text x="${mm(x)}" y="${mm(y)}"${more}>${escapeXml(text)}</text>`;
}

/** The pieces in rows, in the order of the set file. */
function drawRows(cells: readonly PieceCell[], top: number): DrawnStretch {
  const drawn: string[] = [];
  let [x, y, rowHeight] = [page.margin, top, 0];
  for (const cell of cells) {
    if (x > page.margin && x + cell.width > page.margin + inner) {
      [x, y, rowHeight] = [page.margin, y + rowHeight + gap, 0];
    }
    drawn.push(drawCell(cell, { x, y }));
    x += cell.width + gap;
    rowHeight = Math.max(rowHeight, cell.height);
  }
  return { svg: drawn.join('\n'), bottom: y + rowHeight };
}

/**
 * What lies in no outline, as it lies in the block that holds it. The blocks of a set that was made of a
 * drawing lie as they lay there, so the pieces show where it was.
 */
function drawLeftOut(
  { pieces, leftOut }: Pick<PatternSet, 'pieces' | 'leftOut'>,
  top: number,
): DrawnStretch {
  if (leftOut.length === 0) return { svg: '', bottom: top };
  const { svg, height } = drawOverview(
    pieces.map(({ outline }) => outline),
    leftOut,
    inner,
  );
  return {
    svg: `<g transform="translate(${page.margin} ${mm(top)})">${svg}</g>`,
    bottom: top + height,
  };
}

/** The findings in words, under the names of their pieces, in two columns of about equal length. */
function drawList(groups: readonly FindingGroup[], top: number): DrawnStretch {
  const items = groups.flatMap(({ piece, findings }) =>
    findings.map((listed) => itemOf(listed, piece ?? 'the set')),
  );
  const first = halfOf(items.map(({ lines }) => lines.length + 1));
  const columns = [items.slice(0, first), items.slice(first)].map((column, i) =>
    drawColumn(column, page.margin + i * (columnWidth + columnGap), top),
  );
  return {
    svg: columns.map(({ svg }) => svg).join('\n'),
    bottom: Math.max(...columns.map(({ bottom }) => bottom)),
  };
}

/** One finding in the list. */
interface ListEntry {
  readonly listed: ListedFinding;
  readonly lines: readonly string[];
  readonly heading: string;
}

const columnGap = 8;
const columnWidth = (inner - columnGap) / 2;
/** The space for the ring before the words, mm. */
const indent = 2 * ringRadius + 1.5;
/**
 * lineWidth gives widths of bold type. The list is not bold, so its lines may be longer by this factor.
 */
const boldness = 1.12;

function itemOf(listed: ListedFinding, heading: string): ListEntry {
  const { finding } = listed;
  const { file, ...where } = finding.where;
  const short = file === undefined ? where : { ...where, file: basename(file) };
  const words = listedWords({ ...listed, finding: { ...finding, where: short } });
  const width = (boldness * (columnWidth - indent)) / type;
  return { listed, lines: wrapped(`${finding.severity}: ${words}`, width), heading };
}

/** How many of the first entries take up half of the whole height. */
function halfOf(heights: readonly number[]): number {
  const half = heights.reduce((sum, height) => sum + height, 0) / 2;
  let sum = 0;
  const last = heights.findIndex((height) => (sum += height) >= half);
  return last + 1;
}

function drawColumn(items: readonly ListEntry[], left: number, top: number): DrawnStretch {
  const drawn: string[] = [];
  let y = top;
  for (const [i, { listed, lines, heading }] of items.entries()) {
    if (heading !== items[i - 1]?.heading) {
      drawn.push(textLine(left, y + 1.4 * lineHeight, heading, 'font-weight="bold"'));
      y += 1.8 * lineHeight;
    }
    const ring = { x: left + ringRadius, y: y + lineHeight - 0.35 * type };
    drawn.push(drawRing(listed.number, listed.finding.severity, ring));
    for (const line of lines) {
      y += lineHeight;
      drawn.push(textLine(left + indent, y, line));
    }
    y += 0.5 * lineHeight;
  }
  return { svg: drawn.join('\n'), bottom: y };
}
