import bwipjs from 'bwip-js/node';
import type { Hand, Side } from '../../pattern/words.ts';
import { benchPicture } from '../pictures/bench-picture.ts';
import type { LabelStock } from '../../pattern/shop/label-stock.ts';
import { placeOfLabel } from '../../pattern/shop/label-stock.ts';
import type { BenchStep } from '../facts/next-steps.ts';
import { nextSteps, wordStep } from '../facts/next-steps.ts';
import { partsInOrder } from '../tables/part-tables.ts';
import type { Pdf, Type } from '../documents/pdf.ts';
import {
  beginPdf,
  bytesOf,
  cutToWidth,
  drawLine,
  ink,
  lineHeight,
  linesOfText,
  softInk,
  widthOfText,
} from '../documents/pdf.ts';
import { toPoints } from '../documents/points.ts';
import type { LabelWords, ShapeWords } from '../facts/order-words.ts';
import { labelCloth, labelWords, shapeWords, wordShape } from '../facts/order-words.ts';
import type { RunFacts } from '../facts/run-facts.ts';
import { clothIn } from '../facts/run-facts.ts';
import { drawSvg, sizeOfSvg } from '../documents/svg-in-pdf.ts';

/** What stands on the label of a part. */
export interface PartLabel {
  /** The part's label, which is also what the code holds. */
  readonly label: string;
  readonly name: string;
  readonly side: Side | null;
  readonly hand: Hand;
  readonly order: string;
  readonly set: number;
  /** The title of the set. */
  readonly title: string;
  /** The options that shape it. Left out: none does. */
  readonly shape?: readonly ShapeWords[];
  /** What its order says of it. What has no room is left out. */
  readonly words?: LabelWords;
  readonly steps: readonly BenchStep[];
  /** A picture of the part in the size pictureSize. */
  readonly svg: string;
  /** A word to be read before all others, for example on a part that is cut again. */
  readonly mark?: string;
}

/** The size of the picture of a part on a label, mm on paper. */
export function pictureSize({ label }: LabelStock): { width: number; height: number } {
  const width = codeSize(label.height);
  return { width, height: label.height - 2 * padding - width - 2 };
}

const padding = 3;
/** Labels less high than this (mm) have smaller type and no title. */
const roomy = 45;
const sizes = {
  large: { name: 13, side: 11, order: 10, title: 9 },
  small: { name: 11, side: 9.5, order: 8, title: 8 },
} as const;
/** Smallest type, in points. */
const smallest = 8;

function codeSize(height: number): number {
  return Math.min(24, 0.46 * height);
}

/** The labels of a run's parts, in cutting order. */
export function runLabels(facts: RunFacts): PartLabel[] {
  const size = pictureSize(facts.labelStock);
  return partsInOrder(facts).map(({ label, name, set, order }) => {
    const part = order.parts.find((one) => one.name === name)!;
    return {
      label,
      name,
      side: part.side,
      hand: part.hand,
      order: part.order,
      set,
      title: order.set.content.title,
      shape: shapeWords(order, part),
      words: labelWords(order.order, part, clothIn(order, part)),
      steps: nextSteps(order, name, facts.lengths),
      svg: benchPicture(part, size, { left: order.left.get(name)! }),
    };
  });
}

/** Sheets of labels, row by row. */
export async function labelsPdf(
  labels: readonly PartLabel[],
  stock: LabelStock,
  title: string,
): Promise<Uint8Array> {
  const pdf = beginPdf(title, [stock.sheet.width, stock.sheet.height]);
  for (const [i, label] of labels.entries()) {
    const place = placeOfLabel(stock, i);
    if (place.isFirst) pdf.addPage();
    drawLabel(pdf, label, stock, place, `${i + 1} of ${labels.length}`);
  }
  return bytesOf(pdf);
}

/** Draws a label: words on the left, code and picture on the right. */
function drawLabel(
  pdf: Pdf,
  label: PartLabel,
  stock: LabelStock,
  { x, y }: { x: number; y: number },
  number: string,
): void {
  const { width, height } = stock.label;
  const code = codeSize(height);
  const right = x + width - padding - code;
  const column = { x: x + padding, width: right - x - padding - 2 };
  drawCode(pdf, label.label, right, y + padding, code);
  const size = pictureSize(stock);
  const own = sizeOfSvg(label.svg);
  const pictureHeight = (size.width * own.height) / own.width;
  drawSvg(pdf, label.svg, right, y + height - padding - pictureHeight, size.width);
  const bottom = y + height - padding;
  let at = y + padding;
  const line = (text: string, largest: number, more: Omit<Type, 'size'> = {}): void => {
    at += drawFitted(
      pdf,
      text,
      { x: column.x, y: at, width: column.width },
      { size: largest, ...more },
    );
  };
  const isSmall = height < roomy;
  const type = isSmall ? sizes.small : sizes.large;
  const { shape = [], mark } = label;
  // On a small label the options of a part take the line of the mark, which then stands before the name.
  if (mark !== undefined && isSmall && shape.length > 0) {
    line(`${mark} ${label.name}`, type.name, { bold: true });
  } else {
    if (mark !== undefined) line(mark, type.name, { bold: true });
    line(label.name, type.name, { bold: true });
  }
  const { words = { lines: [] } } = label;
  const side = `${sideWords(label)}, ${label.hand}`;
  const withColour = `${side}, ${words.colour ?? ''}`;
  // On a small label the colour stands beside the side where it fits, since a line more costs a step.
  const isBeside =
    isSmall &&
    words.colour !== undefined &&
    widthOfText(withColour, smallest, true) <= column.width;
  line(isBeside ? withColour : side, type.side, { bold: true });
  // The colour is always said; all else gives way to the options and to what happens next.
  const isOwnLine = words.colour !== undefined && !isBeside;
  const last = bottom - lineHeight(smallest) - 0.5;
  const kept =
    lineHeight(type.order) + (isOwnLine ? lineHeight(type.title) : 0) + 0.8 + lineHeight(smallest);
  const most = Math.max(1, Math.floor((last - at - kept) / lineHeight(type.order) + 1e-6));
  for (const text of shapeLines(shape, column.width, most)) line(text, type.order, { bold: true });
  line(`order ${label.order}, set ${label.set}`, type.order);
  // A small label has no room for the title: the order tells as much, and what happens next is more
  // important.
  const withTitle = at + lineHeight(type.title) + kept - lineHeight(type.order) <= last;
  if (!isSmall && withTitle) line(label.title, type.title, { colour: softInk });
  const stepsHeight =
    0.8 + stepLines(stepWords(label.steps), smallest, column.width).length * lineHeight(smallest);
  if (isOwnLine) line(labelCloth(words), type.title);
  const others = [...(words.cloth === undefined || isOwnLine ? [] : [words.cloth]), ...words.lines];
  for (const text of others) {
    if (at + lineHeight(type.title) + stepsHeight <= last) line(text, type.title);
  }
  at += 0.8;
  drawSteps(pdf, label.steps, { ...column, y: at, bottom: last });
  const foot = { x: column.x, y: bottom - lineHeight(smallest), width: column.width };
  drawFitted(pdf, `${label.label}   ${number}`, foot, { size: smallest, colour: softInk });
}

/**
 * The options that shape a part, in lines no wider than `width`: in one line if they fit, by their names if
 * they do not, and in more lines if these are too long too. More than `most` lines would drive out all else.
 */
function shapeLines(shape: readonly ShapeWords[], width: number, most: number): string[] {
  const fits = (text: string): boolean => widthOfText(text, smallest, true) <= width;
  const words = wordShape(shape);
  const short = shape.map(([, own]) => own).join('; ');
  if (shape.length === 0) return [];
  if (fits(words)) return [words];
  const lines = linesOfText(short, width, { size: smallest, bold: true });
  if (lines.length <= most) return lines;
  return [...lines.slice(0, most - 1), `${lines[most - 1]!} …`];
}

function sideWords({ side }: PartLabel): string {
  return side === null ? 'CENTRE' : side === 'left' ? 'LEFT' : 'RIGHT';
}

/**
 * Draws one line in the largest type in which it fits, no larger than asked for. If it is too long even
 * for the smallest, it is shortened and ends in `…`. Returns its height, mm.
 */
function drawFitted(
  pdf: Pdf,
  text: string,
  { x, y, width }: { x: number; y: number; width: number },
  type: Type,
): number {
  let { size } = type;
  while (size > smallest && widthOfText(text, size, type.bold) > width) size -= 0.5;
  drawLine(pdf, cutToWidth(text, width, { ...type, size }), x, y, { ...type, size });
  return lineHeight(size);
}

function stepWords(steps: readonly BenchStep[]): string[] {
  return steps.length === 0 ? ['Nothing more: to the packer'] : steps.map(wordStep);
}

interface StepsRoom {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly bottom: number;
}

/**
 * Draws steps in the largest type in which all fit. If they do not fit even in the smallest, a last line
 * says that the sewing sheet has more.
 */
function drawSteps(pdf: Pdf, steps: readonly BenchStep[], room: StepsRoom): void {
  const words = stepWords(steps);
  const settings = [10, 9, smallest].map((size) => ({
    size,
    lines: stepLines(words, size, room.width),
    most: Math.max(1, Math.floor((room.bottom - room.y) / lineHeight(size) + 1e-6)),
  }));
  const { lines, size, most } =
    settings.find((one) => one.lines.length <= one.most) ?? settings[2]!;
  const shown = lines.length <= most ? lines : lines.slice(0, most - 1);
  const at = (i: number): number => room.y + i * lineHeight(size);
  for (const [i, { text, isFirst }] of shown.entries()) {
    if (isFirst) drawLine(pdf, '•', room.x, at(i), { size });
    drawLine(pdf, text, room.x + bullet, at(i), { size });
  }
  if (shown.length === lines.length) return;
  drawFitted(pdf, 'more: sewing sheet', { ...room, y: at(shown.length) }, { size, bold: true });
}

/** The space in front of a step, mm. */
const bullet = 2.8;

/** Steps as lines no wider than a column, mm. */
function stepLines(
  words: readonly string[],
  size: number,
  width: number,
): { text: string; isFirst: boolean }[] {
  return words.flatMap((text) =>
    linesOfText(text, width - bullet, { size }).map((line, i) => ({
      text: line,
      isFirst: i === 0,
    })),
  );
}

/**
 * How many modules round a code stay white. The standard asks for four; the other two lie in the 2 mm to
 * which nothing else comes nearer.
 */
const quiet = 2;

/**
 * Draws a QR code (ISO/IEC 18004) with its upper left corner at x, y, `size` mm wide including the white
 * space round it.
 */
function drawCode(pdf: Pdf, text: string, x: number, y: number, size: number): void {
  const { pixs, pixx } = qrModules(text);
  const module = size / (pixx + 2 * quiet);
  for (let row = 0; row < pixx; row++) {
    for (let from = 0; from < pixx; from++) {
      if (pixs[row * pixx + from] === 0) continue;
      let to = from;
      while (to < pixx && pixs[row * pixx + to] !== 0) to++;
      pdf.rect(
        toPoints(x + (from + quiet) * module),
        toPoints(y + (row + quiet) * module),
        toPoints((to - from) * module),
        toPoints(module),
      );
      from = to;
    }
  }
  pdf.fillColor(ink).fill();
}

interface Modules {
  readonly pixs: readonly number[];
  readonly pixx: number;
}

/** Codes that were made, by their text: to make one takes longer than all else of a label. */
const codes = new Map<string, Modules>();
const mostCodes = 2000;

/** The dark and light squares of a code, row by row, without the white space round it. */
export function qrModules(text: string): Modules {
  const known = codes.get(text);
  if (known !== undefined) return known;
  const [code] = bwipjs.raw('qrcode', text, 'eclevel=M') as unknown as [Modules];
  if (codes.size >= mostCodes) codes.clear();
  codes.set(text, code);
  return code;
}
