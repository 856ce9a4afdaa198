import { boxOfPath } from '../geometry/box.ts';
import { headingOf } from '../geometry/angle.ts';
import { roomiestPoint } from '../geometry/interior.ts';
import type { Path } from '../geometry/path.ts';
import { polyline } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { Transform } from '../geometry/transform.ts';
import { compose, transformPath, translation } from '../geometry/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Lay } from '../lay/lay.ts';
import { placementTransform } from '../lay/lay.ts';
import { barredFill, fillDefinitions, setFill } from './fills.ts';
import { fitText, lineSpacing } from './label.ts';
import { escapeXml, mm, pathData } from './svg.ts';

/** A stretch of the lay that is drawn as one row: mm from the roll's start. */
export interface Row {
  readonly from: number;
  readonly to: number;
}

/** A part where it lies, on the page: x along the roll, y down from the far edge of the roll. */
interface Drawn {
  readonly part: Part;
  readonly transform: Transform;
  readonly fill: string;
  /** Direction of the pile on the page, degrees clockwise; null without pile. */
  readonly pageDeg: number | null;
}

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
      drawRow(lay, row, i, drawn, type),
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

function drawRow(lay: Lay, row: Row, index: number, drawn: readonly Drawn[], type: number): string {
  const inRow = drawn.filter(({ part, transform }) => {
    const { minX, maxX } = boxOfPath(transformPath(transform, part.cut));
    return maxX > row.from && minX < row.to;
  });
  return [
    drawRoll(lay, row, type),
    drawRuler(lay, row, type),
    drawHeading(lay, row, index, type),
    ...inRow.map((one) => drawPart(one, type)),
    ...inRow.map((one) => drawLabel(one, type)),
  ].join('\n');
}

function rect(x: number, y: number, width: number, height: number, attributes: string): string {
  return `<rect x="${mm(x)}" y="${mm(y)}" width="${mm(width)}" height="${mm(height)}" ${attributes}/>`;
}

/** Waste and remnant, selvedges, start margin, and the roll's outline. */
function drawRoll({ roll, length }: Lay, { from, to }: Row, type: number): string {
  const line = `stroke="#1b1b1b" stroke-width="${mm(type / 16)}"`;
  const used = Math.max(0, Math.min(to, length) - from);
  const bars: string[] = [];
  if (roll.selvedge > 0) {
    bars.push(rect(from, 0, to - from, roll.selvedge, `fill="${barredFill}"`));
    bars.push(
      rect(from, roll.width - roll.selvedge, to - from, roll.selvedge, `fill="${barredFill}"`),
    );
  }
  if (from < roll.startMargin)
    bars.push(rect(0, 0, Math.min(roll.startMargin, to), roll.width, `fill="${barredFill}"`));
  return [
    rect(from, 0, to - from, roll.width, 'fill="#ffffff"'),
    rect(from, 0, used, roll.width, 'fill="#cfccc6"'),
    ...bars,
    rect(from, 0, to - from, roll.width, `fill="none" ${line}`),
    ...(length > from && length < to
      ? [
          `<path d="M${mm(length)} 0V${mm(roll.width)}" stroke="#1b1b1b" stroke-width="${mm(type / 10)}" stroke-dasharray="${mm(type)} ${mm(type / 2)}"/>`,
        ]
      : []),
  ].join('\n');
}

/** Marks every 100 mm, figures every half metre. */
function drawRuler({ roll }: Lay, { from, to }: Row, type: number): string {
  const ticks: string[] = [];
  const figures: string[] = [];
  for (let x = Math.ceil(from / 100) * 100; x <= to + 1e-6; x += 100) {
    const isMetre = x % 1000 === 0;
    const isHalf = x % 500 === 0;
    ticks.push(`M${mm(x)} ${mm(roll.width)}v${mm(type * (isMetre ? 0.8 : isHalf ? 0.6 : 0.3))}`);
    if (isHalf)
      figures.push(
        `<text x="${mm(x)}" y="${mm(roll.width + 1.75 * type)}" text-anchor="middle">${x / 1000} m</text>`,
      );
  }
  return `<path d="${ticks.join('')}" stroke="#1b1b1b" stroke-width="${mm(type / 16)}" fill="none"/>${figures.join('')}`;
}

function drawHeading(lay: Lay, { from, to }: Row, index: number, type: number): string {
  const bite = Number.isFinite(lay.rules.biteLength) ? `bite ${index + 1}` : `row ${index + 1}`;
  const words = `${lay.material}, ${bite}`;
  const heading = `<text x="${mm(from)}" y="${mm(-0.6 * type)}" font-weight="bold">${escapeXml(words)}</text>`;
  if (lay.rules.turns === 'any') return heading;
  const arrow = drawArrow({ x: to - 4 * type, y: -0.9 * type }, 0, 6 * type, type / 7);
  const pile = `<text x="${mm(to - 7.6 * type)}" y="${mm(-0.6 * type)}" text-anchor="end">pile leans this way</text>`;
  return heading + pile + arrow;
}

function drawPart({ part, transform, fill }: Drawn, type: number): string {
  const place = (path: Path): string => pathData(transformPath(transform, path));
  const outline = [part.cut, ...part.inner.map(({ path }) => path)].map(place).join('');
  const thin = mm(type / 22);
  const marks = part.marks
    .filter(({ path }) => path.vertices.length > 1)
    .map(({ path }) => place(path));
  const dots = part.marks.filter(({ path }) => path.vertices.length === 1);
  const notches = part.notches.map(({ from, to }) => place(polyline([from, to], false)));
  const net =
    part.net === part.cut
      ? ''
      : `<path d="${place(part.net)}" fill="none" stroke="#6b675f" stroke-width="${thin}"/>`;
  return [
    `<path d="${outline}" fill="${fill}" fill-rule="evenodd" stroke="#1b1b1b" stroke-width="${mm(type / 12)}" stroke-linejoin="round"/>`,
    net,
    marks.length === 0
      ? ''
      : `<path d="${marks.join('')}" fill="none" stroke="#55514a" stroke-width="${thin}" stroke-dasharray="${mm(type / 2)} ${mm(type / 3)}"/>`,
    ...dots.map(({ path }) => drawCross(transformPath(transform, path).vertices[0]!, type)),
    notches.length === 0
      ? ''
      : `<path d="${notches.join('')}" stroke="#1b1b1b" stroke-width="${mm(type / 8)}"/>`,
  ]
    .filter((line) => line !== '')
    .join('\n');
}

function drawCross({ x, y }: Point, type: number): string {
  const r = mm(type / 4);
  return `<path d="M${mm(x)} ${mm(y)}m-${r} 0h${mm(type / 2)}m-${r} -${r}v${mm(type / 2)}" stroke="#55514a" stroke-width="${mm(type / 22)}"/>`;
}

/** Name, order and pile arrow at the roomiest place of a part, always upright. */
function drawLabel({ part, transform, pageDeg }: Drawn, type: number): string {
  const paths = [part.cut, ...part.inner.map(({ path }) => path)].map((path) =>
    transformPath(transform, path),
  );
  const { point } = roomiestPoint(paths[0]!, paths.slice(1));
  const { lines, size } = fitText(wordsOf(part), paths, point, {
    smallest: type,
    largest: 1.5 * type,
  });
  const all = [...lines, `${part.set} / ${part.order}`];
  const arrowRoom = pageDeg === null ? 0 : 0.8;
  const top = point.y - ((all.length + arrowRoom) * size * lineSpacing) / 2;
  const text = all.map((line, i) => {
    const weight = i < lines.length ? ' font-weight="bold"' : '';
    return `<text x="${mm(point.x)}" y="${mm(top + (i + 0.85) * size * lineSpacing)}"${weight}>${escapeXml(line)}</text>`;
  });
  const arrowAt = { x: point.x, y: top + (all.length + 0.45) * size * lineSpacing };
  const arrow = pageDeg === null ? '' : drawArrow(arrowAt, pageDeg, 2.4 * size, size / 9);
  return `<g font-size="${mm(size)}" text-anchor="middle" stroke="#ffffff" stroke-width="${mm(size / 5)}" stroke-linejoin="round" paint-order="stroke">${text.join('')}</g>${arrow}`;
}

/** The name in pieces that may be set on lines of their own, hyphens kept. */
function wordsOf({ name }: Part): string[] {
  return name.split(/(?<=-)/);
}

function drawArrow(at: Point, deg: number, length: number, width: number): string {
  const { x, y } = headingOf(deg);
  const tip = { x: at.x + (x * length) / 2, y: at.y + (y * length) / 2 };
  const barb = (turn: number): string => {
    const h = headingOf(deg + turn);
    return `M${mm(tip.x)} ${mm(tip.y)}l${mm(h.x * 4 * width)} ${mm(h.y * 4 * width)}`;
  };
  const shaft = `M${mm(tip.x - x * length)} ${mm(tip.y - y * length)}L${mm(tip.x)} ${mm(tip.y)}`;
  return `<path d="${shaft}${barb(150)}${barb(-150)}" fill="none" stroke="#1b1b1b" stroke-width="${mm(width)}" stroke-linecap="round"/>`;
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
