import { boxOfPath } from '../geometry/box.ts';
import type { Transform } from '../geometry/transform.ts';
import { compose, transformPath, translation } from '../geometry/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Lay } from '../lay/lay.ts';
import { placementTransform } from '../lay/lay.ts';
import { fillDefinitions, setFill } from './fills.ts';
import type { Drawn } from './part-picture.ts';
import { drawLabel, drawPart } from './part-picture.ts';
import type { Row } from './roll-picture.ts';
import { drawEmptyRow } from './roll-picture.ts';
import { escapeXml, mm, rect } from './svg.ts';

/** A roll without bites is drawn in rows of this length, mm. */
const rowWithoutBites = 4000;

/** The lay cut into rows: one a bite, the last no longer than it need be. */
export function rowsOf({ length, rules }: Pick<Lay, 'length' | 'rules'>): Row[] {
  const step = Number.isFinite(rules.biteLength) ? rules.biteLength : rowWithoutBites;
  const count = Math.max(1, Math.ceil(length / step - 1e-9));
  return Array.from({ length: count }, (_, i) => ({
    from: i * step,
    to: Math.min(
      (i + 1) * step,
      Math.max(i * step + 0.25 * step, Math.ceil(length / 100) * 100 + 100),
    ),
  }));
}

/**
 * A picture of the lay as one SVG, bite under bite: roll with selvedges and metre marks, waste grey,
 * parts filled by set with their labels upright, cutouts open, marks dashed, an arrow where the pile
 * leans. Drawn from the same contours as the cutter's files. Sizes are mm on the roll; printed
 * 190 mm wide, no type comes out under 8 points.
 */
export function layPicture(
  lay: Lay,
  parts: readonly Part[],
  rows: readonly Row[] = rowsOf(lay),
): string {
  const widest = Math.max(...rows.map(({ from, to }) => to - from));
  const pageWidth = Math.max(widest, 0.6 * lay.roll.width) * 1.06;
  const type = (pageWidth / 190) * 2.9;
  const rowHeight = lay.roll.width + 5.2 * type;
  const drawn = drawnParts(lay, parts);
  const sets = setsOf(parts);
  const legendLines = Math.ceil(sets.length / 3);
  const height = rows.length * rowHeight + (legendLines + 1.2) * 1.5 * type;
  const margin = (pageWidth - widest) / 2;
  const body = rows.map((row, i) =>
    group(
      translation({ x: margin - row.from, y: i * rowHeight + 3 * type }),
      drawRow(lay, row, drawn, type),
    ),
  );
  const legend = sets.map((set, i) =>
    drawLegend(set, i, pageWidth, rows.length * rowHeight + 1.5 * type, type),
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${mm(pageWidth)} ${mm(height)}" font-family="'DejaVu Sans', Arial, sans-serif" font-size="${mm(type)}" fill="#1b1b1b">`,
    `<title>${escapeXml(`Lay of ${lay.material}`)}</title>`,
    fillDefinitions(1.1 * type),
    `<rect width="${mm(pageWidth)}" height="${mm(height)}" fill="#ffffff"/>`,
    ...body,
    ...legend,
    '</svg>\n',
  ].join('\n');
}

function group({ e, f }: Transform, content: string): string {
  return `<g transform="translate(${mm(e)} ${mm(f)})">\n${content}\n</g>`;
}

/** The sets in a run in the order of their parts. */
function setsOf(parts: readonly Part[]): Part[] {
  const seen = new Map<string, Part>();
  for (const part of parts) if (!seen.has(setKey(part))) seen.set(setKey(part), part);
  return [...seen.values()];
}

function setKey({ order, set }: Part): string {
  return `${order}.${set}`;
}

function drawnParts(lay: Lay, parts: readonly Part[]): Drawn[] {
  const onPage: Transform = { a: 1, b: 0, c: 0, d: -1, e: 0, f: lay.roll.width };
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const order = setsOf(parts).map(setKey);
  return lay.placements.map((placement) => {
    const part = byLabel.get(placement.label);
    if (part === undefined) throw new RangeError(`no part ${placement.label}`);
    return {
      part,
      transform: compose(onPage, placementTransform(placement)),
      fill: setFill(order.indexOf(setKey(part))),
      pageDeg: part.pileDeg === null ? null : -(part.pileDeg + placement.rotation),
    };
  });
}

function drawRow(lay: Lay, row: Row, drawn: readonly Drawn[], type: number): string {
  const inRow = drawn.filter(({ part, transform }) => {
    const { minX, maxX } = boxOfPath(transformPath(transform, part.cut));
    return maxX > row.from && minX < row.to;
  });
  return [
    drawEmptyRow(lay, row, type),
    ...inRow.map((one) => drawPart(one, type)),
    ...inRow.map((one) => drawLabel(one, type)),
  ].join('\n');
}

function drawLegend(
  set: Part,
  index: number,
  pageWidth: number,
  top: number,
  type: number,
): string {
  const column = pageWidth / 3;
  const x = (index % 3) * column + 0.03 * pageWidth;
  const y = top + Math.floor(index / 3) * 1.5 * type;
  const words = `order ${set.order}, set ${set.set}, ${set.hand}`;
  return (
    rect(
      x,
      y - type,
      2 * type,
      1.2 * type,
      `fill="${setFill(index)}" stroke="#1b1b1b" stroke-width="${mm(type / 20)}"`,
    ) + `<text x="${mm(x + 2.5 * type)}" y="${mm(y)}">${escapeXml(words)}</text>`
  );
}
