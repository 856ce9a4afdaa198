import type { Part } from '../../handing/part.ts';
import { benchPicture } from '../pictures/bench-picture.ts';
import type { LabelStock } from '../../pattern/shop/label-stock.ts';
import { placeOfLabel } from '../../pattern/shop/label-stock.ts';
import { once } from '../facts/once.ts';
import { nextSteps } from '../facts/next-steps.ts';
import { partsInOrder } from '../tables/part-tables.ts';
import type { Pdf } from '../documents/pdf.ts';
import { beginPdf, bytesOf, drawLine, ink } from '../documents/pdf.ts';
import { piecePoint } from '../documents/own-pdf.ts';
import { qrModules } from './qr-code.ts';
import { toPoints } from '../documents/points.ts';
import { labelWords, shapeWords } from '../facts/order-words.ts';
import { placesInOrders } from '../facts/count-in-order.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { clothIn } from '../facts/run-facts.ts';
import { labelLines } from './label-lines.ts';
import type { PartLabel } from './part-label.ts';
import { drawSvg, sizeOfSvg } from '../documents/svg-in-pdf.ts';

/** The size of the picture of a part on a label, mm on paper. */
export function pictureSize({ label }: LabelStock): { width: number; height: number } {
  const width = codeSize(label.height);
  return { width, height: label.height - 2 * padding - width - 2 };
}

const padding = 3;
function codeSize(height: number): number {
  return Math.min(24, 0.46 * height);
}

/** The labels of a run's parts, in cutting order. */
export function runLabels(facts: RunFacts): PartLabel[] {
  const places = placesInOrders(facts.orders.flatMap(labelledParts));
  // The sets of an order are alike: what holds for all of them is found out once.
  const alike = new Map<Part, SameForSets>();
  return partsInOrder(facts).map(({ label, name, set, order }) => {
    const part = order.parts.find((one) => one.name === name)!;
    const same = alike.get(part) ?? sameForSets(part, order, facts);
    alike.set(part, same);
    return { ...same, label, set, place: places.get(label)! };
  });
}

type SameForSets = Omit<PartLabel, 'label' | 'set' | 'place'>;

/** What stands on the labels of a part in all sets of its order. */
function sameForSets(part: Part, order: OrderFacts, facts: RunFacts): SameForSets {
  const { name, side, hand } = part;
  const size = pictureSize(facts.labelStock);
  return {
    name,
    side,
    hand,
    order: part.order,
    title: order.set.content.title,
    shape: shapeWords(order, part),
    words: labelWords(order.order, part, clothIn(order, part)),
    steps: nextSteps(order, name, facts.lengths),
    svg: once(order.bench.get(name)!, `label ${size.width} ${size.height}`, () =>
      benchPicture(part, size, { left: order.left.get(name)! }),
    ),
  };
}

/** All parts of an order, set by set. */
function labelledParts({ order, parts }: OrderFacts): { label: string; order: string }[] {
  return Array.from({ length: order.quantity }, (_, i) =>
    parts.map(({ name }) => ({
      label: `${name}.${i + 1}.${order.order}`,
      order: order.order,
    })),
  ).flat();
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
    // Some labels of a sheet may be printed by themselves: each is drawn as a piece of its own.
    pdf.addContent(piecePoint).save();
    drawLabel(pdf, label, stock, place);
    pdf.restore();
  }
  return bytesOf(pdf);
}

/** Draws a label: words on the left, code and picture on the right. */
function drawLabel(
  pdf: Pdf,
  label: PartLabel,
  stock: LabelStock,
  { x, y }: { x: number; y: number },
): void {
  const { width, height } = stock.label;
  const code = codeSize(height);
  const right = x + width - padding - code;
  drawCode(pdf, label.label, right, y + padding, code);
  const size = pictureSize(stock);
  const own = sizeOfSvg(label.svg);
  const pictureHeight = (size.width * own.height) / own.width;
  drawSvg(pdf, label.svg, right, y + height - padding - pictureHeight, size.width);
  const column = { width: right - x - padding - 2, height: height - 2 * padding };
  for (const line of labelLines(label, { ...column, labelHeight: height })) {
    const { text, type, top, indent = 0, bullet } = line;
    if (bullet === true) drawLine(pdf, '•', x + padding, y + padding + top, type);
    drawLine(pdf, text, x + padding + indent, y + padding + top, type);
  }
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
