import type {
  PaperBlock,
  Card,
  Column,
  FactRows,
  List,
  Paper,
  Section,
  PaperTable,
} from './document.ts';
import { cardRows } from './document.ts';
import type { Pdf, Type } from './pdf.ts';
import {
  accentInk,
  beginPdf,
  bytesOf,
  cutToWidth,
  drawLine,
  drawRule,
  ink,
  lineHeight,
  linesOfText,
  ruleInk,
  softInk,
  widthOfText,
} from './pdf.ts';
import { toPoints } from './points.ts';
import { drawSvg, sizeOfSvg } from './svg-in-pdf.ts';

/**
 * Size of a sheet, mm: as wide as A4 and as high as Letter. So it can be printed on either at full size,
 * and nothing is cut off.
 */
export const sheetSize = { width: 210, height: 279.4 };
const margin = { side: 10, top: 12, foot: 16 };
const inner = sheetSize.width - 2 * margin.side;
const room = sheetSize.height - margin.top - margin.foot;

/** Something that is never divided between two sheets: a line, a row of a table, a picture. */
interface Strip {
  /** Height with the space below it, mm. */
  readonly height: number;
  readonly draw: (y: number) => void;
  /** The head of a table. It is drawn again if a sheet begins with this strip. */
  readonly head?: Strip;
  /** It must not be the last strip on a sheet if another follows. */
  readonly keep?: true;
  /** It is empty space: it begins no sheet. */
  readonly isSpace?: true;
}

const types = {
  title: { size: 20, bold: true },
  second: { size: 14, bold: true },
  third: { size: 11, bold: true },
  body: { size: 9.5 },
  soft: { size: 9, colour: softInk },
  head: { size: 8.5, bold: true, colour: softInk },
  cell: { size: 9 },
  tight: { size: 8.5 },
  total: { size: 9, bold: true },
  shout: { size: 26, bold: true, colour: accentInk },
  foot: { size: 8, colour: softInk },
} satisfies Record<string, Type>;

/** A paper as PDF. The same paper gives the same bytes. */
export async function paperPdf(paper: Paper): Promise<Uint8Array> {
  const pdf = beginPdf(paper.title, [sheetSize.width, sheetSize.height]);
  const strips = [...titleStrips(pdf, paper), ...stripsOf(pdf, paper.blocks, margin.side, inner)];
  placeStrips(pdf, strips, againStrip(pdf, paper));
  drawFeet(pdf, paper.foot);
  return bytesOf(pdf);
}

/**
 * What is left on the sheet below what a paper begins with, for a picture as wide as the paper, and what such a picture
 * has on a sheet of its own; both in mm. `beginning`: the paper as far as it stands above the picture.
 */
export function roomBelow(beginning: Paper): { own: number; whole: number } {
  const pdf = beginPdf(beginning.title, [sheetSize.width, sheetSize.height]);
  const strips = [
    ...titleStrips(pdf, beginning),
    ...stripsOf(pdf, beginning.blocks, margin.side, inner),
  ];
  const whole = room - underPicture;
  return { own: whole - heightOf(strips), whole };
}

/** Below a picture, mm. */
const underPicture = 2;

function titleStrips(pdf: Pdf, { title, subtitle }: Paper): Strip[] {
  return [
    ...textStrips(pdf, title, margin.side, inner, types.title),
    ...textStrips(pdf, subtitle, margin.side, inner, types.soft),
    gap(2),
  ];
}

/** What stands at the top of each sheet after the first. null: nothing does. */
function againStrip(pdf: Pdf, { again }: Paper): Strip | null {
  if (again === undefined) return null;
  const strips = [...textStrips(pdf, again, margin.side, inner, types.third), gap(1.5)];
  return { height: heightOf(strips), draw: (y) => drawColumn(strips, y) };
}

/** Draws strips below each other, on as many sheets as they need; `again` on each after the first. */
function placeStrips(pdf: Pdf, strips: readonly Strip[], again: Strip | null): void {
  let y = Infinity;
  for (const [i, strip] of strips.entries()) {
    const needed = heightKept(strips, i);
    const isFull = y + Math.min(needed, room) > margin.top + room + 0.01;
    if (isFull && strip.isSpace === true) {
      y = margin.top + room;
      continue;
    }
    if (isFull) {
      const isFirst = y === Infinity;
      pdf.addPage();
      y = margin.top;
      if (again !== null && !isFirst) {
        again.draw(y);
        y += again.height;
      }
      if (strip.head !== undefined) {
        strip.head.draw(y);
        y += strip.head.height;
      }
    }
    strip.draw(y);
    y += strip.height;
  }
}

/** Height of a strip with all that must follow it on its sheet: what a heading keeps may keep more. */
function heightKept(strips: readonly Strip[], from: number): number {
  let height = 0;
  let i = from;
  do height += strips[i]?.height ?? 0;
  while (strips[i++]?.keep === true);
  return height;
}

function drawFeet(pdf: Pdf, foot: string): void {
  const { count } = pdf.bufferedPageRange();
  for (let i = 0; i < count; i++) {
    pdf.switchToPage(i);
    const y = sheetSize.height - 11;
    const number = `sheet ${i + 1} of ${count}`;
    const right = sheetSize.width - margin.side;
    drawRule(pdf, [margin.side, y - 1.5], [right, y - 1.5], 0.2, ruleInk);
    const numberWidth = widthOfText(number, types.foot.size);
    const words = cutToWidth(foot, inner - numberWidth - 5, types.foot);
    drawLine(pdf, words, margin.side, y, types.foot);
    drawLine(pdf, number, right - numberWidth, y, types.foot);
  }
}

function gap(height: number): Strip {
  return { height, draw: () => {}, isSpace: true };
}

function stripsOf(pdf: Pdf, blocks: readonly PaperBlock[], x: number, width: number): Strip[] {
  return blocks.flatMap((block) => blockStrips(pdf, block, x, width));
}

function blockStrips(pdf: Pdf, block: PaperBlock, x: number, width: number): Strip[] {
  switch (block.kind) {
    case 'heading':
      return headingStrips(pdf, block.text, block.level, x, width);
    case 'text':
      return [
        ...textStrips(pdf, block.text, x, width, block.soft ? types.soft : types.body),
        gap(1.5),
      ];
    case 'shout':
      return [
        ...textStrips(pdf, block.words, x, width, types.shout).map((strip) => ({
          ...strip,
          keep: true as const,
        })),
        ...textStrips(pdf, block.text, x, width, types.body),
        gap(2),
      ];
    case 'facts':
      return [...factStrips(pdf, block, x, width), gap(2)];
    case 'table':
      return [...tableStrips(pdf, block, x, width), gap(2)];
    case 'list':
      return [...listStrips(pdf, block, x, width), gap(2)];
    case 'picture':
      return [pictureStrip(pdf, block.svg, x, Math.min(block.width ?? width, width))];
    case 'beside':
      return [besideStrip(pdf, block, x, width)];
    case 'cards':
      return cardRows(block.cards).map((row) => cardStrip(pdf, row, x, width));
    case 'frame':
      return [frameStrip(pdf, block.title, block.items, x, width)];
    case 'section':
      return sectionStrips(pdf, block, x, width);
  }
}

function textStrips(pdf: Pdf, text: string, x: number, width: number, type: Type): Strip[] {
  return linesOfText(text, width, type).map((line) => ({
    height: lineHeight(type.size),
    draw: (y) => drawLine(pdf, line, x, y, type),
  }));
}

/**
 * A heading. A heading of level 2 has a rule below it. No heading stands alone at the foot of a sheet.
 */
function headingStrips(pdf: Pdf, text: string, level: 2 | 3, x: number, width: number): Strip[] {
  const type = level === 2 ? types.second : types.third;
  const lines = textStrips(pdf, text, x, width, type);
  const [before, after] = level === 2 ? [4, 3] : [2, 1];
  const height = heightOf(lines);
  const draw = (y: number): void => {
    drawColumn(lines, y + before);
    const rule = y + before + height + 0.8;
    if (level === 2) drawRule(pdf, [x, rule], [x + width, rule], 0.5, accentInk);
  };
  return [{ height: before + height + after, draw, keep: true }];
}

function drawColumn(strips: readonly Strip[], y: number): void {
  let at = y;
  for (const strip of strips) {
    strip.draw(at);
    at += strip.height;
  }
}

function heightOf(strips: readonly Strip[]): number {
  return strips.reduce((sum, { height }) => sum + height, 0);
}

/** A row of cells with a rule below it. Each cell is a column of lines. */
function rowStrip(
  pdf: Pdf,
  cells: readonly (readonly Strip[])[],
  x: number,
  width: number,
  rule: { weight: number; colour: string },
  space = 1.6,
): Strip {
  const height = Math.max(...cells.map(heightOf)) + space;
  const draw = (y: number): void => {
    for (const cell of cells) drawColumn(cell, y + space - 1);
    drawRule(pdf, [x, y + height - 0.4], [x + width, y + height - 0.4], rule.weight, rule.colour);
  };
  return { height, draw };
}

const thin = { weight: 0.15, colour: ruleInk };
const strong = { weight: 0.3, colour: ink };

/** Names and values, two pairs side by side. */
function factStrips(pdf: Pdf, { rows }: FactRows, x: number, width: number): Strip[] {
  const named = 26;
  const own = (width - 6) / 2;
  const cells = (row: FactRows['rows'][number], left: number): Strip[][] => [
    textStrips(pdf, row[0], left, named - 2, types.soft),
    textStrips(pdf, row[1], left + named, own - named, types.body),
  ];
  return Array.from({ length: Math.ceil(rows.length / 2) }, (_, i) => {
    const pair = rows.slice(2 * i, 2 * i + 2);
    const columns = pair.flatMap((row, k) => cells(row, x + k * (own + 6)));
    return rowStrip(pdf, columns, x, width, thin);
  });
}

const columnGap = 3;

function tableStrips(
  pdf: Pdf,
  { columns, rows, totals, tight }: PaperTable,
  x: number,
  width: number,
): Strip[] {
  const [cellType, space] = tight === true ? [types.tight, 1.15] : [types.cell, 1.6];
  const sum = columns.reduce((total, { share = 1 }) => total + share, 0);
  const widths = columns.map(({ share = 1 }) => ((width + columnGap) * share) / sum - columnGap);
  const leftOf = (i: number): number =>
    widths.slice(0, i).reduce((left, own) => left + own + columnGap, x);
  const rowOf = (texts: readonly string[], type: Type, rule: typeof thin): Strip =>
    rowStrip(
      pdf,
      texts.map((text, i) => cellStrips(pdf, text, leftOf(i), widths[i]!, columns[i]!, type)),
      x,
      width,
      rule,
      space,
    );
  const head = rowOf(
    columns.map((column) => column.head),
    types.head,
    strong,
  );
  const isLast = (i: number): boolean => totals !== undefined && i === rows.length - 1;
  const body = rows.map((row, i): Strip => ({
    ...rowOf(row, cellType, thin),
    head,
    // Sums never stand alone on a sheet.
    ...(isLast(i) ? { keep: true } : {}),
  }));
  const foot = totals === undefined ? [] : [{ ...rowOf(totals, types.total, strong), head }];
  return [{ ...head, keep: true }, ...body, ...foot];
}

function cellStrips(
  pdf: Pdf,
  text: string,
  x: number,
  width: number,
  { figures, soft }: Column,
  own: Type,
): Strip[] {
  const type: Type = soft === true && own !== types.head ? types.foot : own;
  return linesOfText(text, width, type).map((line) => {
    const left = figures === true ? x + width - widthOfText(line, type.size, type.bold) : x;
    return { height: lineHeight(type.size), draw: (y) => drawLine(pdf, line, left, y, type) };
  });
}

/** A list in columns, read row by row, so that it can be continued on the next sheet after any row. */
function listStrips(
  pdf: Pdf,
  { items, numbered, columns = 1 }: List,
  x: number,
  width: number,
): Strip[] {
  const own = (width + columnGap) / columns - columnGap;
  const indent = numbered === true ? 4 + 1.8 * String(items.length).length : 4;
  const cells = items.map((item, i) => {
    const left = x + (i % columns) * (own + columnGap);
    const lines = textStrips(pdf, item, left + indent, own - indent, types.cell);
    const mark = numbered === true ? `${i + 1}.` : '•';
    return { lines, draw: (y: number) => drawLine(pdf, mark, left, y, types.soft) };
  });
  return Array.from({ length: Math.ceil(cells.length / columns) }, (_, r): Strip => {
    const row = cells.slice(r * columns, (r + 1) * columns);
    return {
      height:
        Math.max(...row.map(({ lines }) => heightOf(lines))) +
        (columns === 1 && numbered === true ? 0.1 : 0.5),
      draw: (y) => {
        for (const { lines, draw } of row) {
          draw(y);
          drawColumn(lines, y);
        }
      },
    };
  });
}

/** A picture of the given width, or smaller if it would be higher than a sheet. */
function pictureStrip(pdf: Pdf, svg: string, x: number, width: number): Strip {
  const { width: own, height: ownHeight } = sizeOfSvg(svg);
  const scale = Math.min(width / own, (room - underPicture) / ownHeight);
  return {
    height: ownHeight * scale + underPicture,
    draw: (y) => drawSvg(pdf, svg, x, y, own * scale),
  };
}

function besideStrip(
  pdf: Pdf,
  { svg, width: pictured, blocks }: Extract<PaperBlock, { kind: 'beside' }>,
  x: number,
  width: number,
): Strip {
  const picture = pictureStrip(pdf, svg, x, pictured);
  const words = stripsOf(pdf, blocks, x + pictured + 4, width - pictured - 4);
  const height = Math.max(picture.height, heightOf(words)) + 2;
  return {
    height,
    draw: (y) => {
      picture.draw(y);
      drawColumn(words, y);
      drawRule(pdf, [x, y + height - 1], [x + width, y + height - 1], thin.weight, thin.colour);
    },
  };
}

/** A row of cards with a rule below it. */
function cardStrip(pdf: Pdf, row: readonly Card[], x: number, width: number): Strip {
  const half = (width - cardGap) / 2;
  const cells = row.map((card, i) => {
    const left = x + i * (half + cardGap);
    const own = card.isWide ? width : half;
    const words = stripsOf(pdf, card.blocks, left + card.width + 3, own - card.width - 3);
    return { picture: pictureStrip(pdf, card.svg, left, card.width), words };
  });
  const height =
    Math.max(...cells.map(({ picture, words }) => Math.max(picture.height, heightOf(words)))) + 2;
  return {
    height,
    draw: (y) => {
      for (const { picture, words } of cells) {
        picture.draw(y);
        drawColumn(words, y);
      }
      drawRule(pdf, [x, y + height - 1], [x + width, y + height - 1], thin.weight, thin.colour);
    },
  };
}

/** Space between two cards side by side, mm. */
const cardGap = 5;

function frameStrip(
  pdf: Pdf,
  title: string,
  items: readonly string[],
  x: number,
  width: number,
): Strip {
  const strips = [
    ...textStrips(pdf, title, x + 4, width - 8, types.third),
    gap(1),
    ...listStrips(pdf, { kind: 'list', items }, x + 4, width - 8),
  ];
  const height = heightOf(strips) + 5;
  return {
    height: height + 2,
    draw: (y) => {
      pdf
        .rect(toPoints(x), toPoints(y), toPoints(width), toPoints(height))
        .lineWidth(toPoints(0.5))
        .undash()
        .strokeColor(ink)
        .stroke();
      drawColumn(strips, y + 2.5);
    },
  };
}

/**
 * The strips of a section. If they are to be kept together they become one strip, unless that is higher
 * than a sheet.
 */
function sectionStrips(pdf: Pdf, { blocks, together }: Section, x: number, width: number): Strip[] {
  const strips = stripsOf(pdf, blocks, x, width);
  const height = heightOf(strips);
  if (together === undefined || height > room) return strips;
  const whole: Strip = { height, draw: (y) => drawColumn(strips, y) };
  return [together === 'with next' ? { ...whole, keep: true } : whole];
}
