import polygonClipping from 'polygon-clipping';
import { areaOf } from '../../../geometry/paths/area.ts';
import { flatten } from '../../../geometry/paths/flatten.ts';
import { polyline } from '../../../geometry/paths/path.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import type { Transform } from '../../../geometry/paths/transform.ts';
import { compose, identity, transformPath } from '../../../geometry/paths/transform.ts';
import { rounded } from '../../../base/numbers.ts';
import { cutShort } from '../../../base/wording.ts';
import type { Part } from '../../../handing/part.ts';
import type { Bite } from '../../../knife/cuts.ts';
import { markArm } from '../../../knife/waste.ts';
import type { OnBed, Reach } from '../../../lay/bites.ts';
import { bitesOf, reachOf } from '../../../lay/bites.ts';
import type { Lay } from '../../../lay/lay.ts';
import { layName, placementTransform } from '../../../lay/lay.ts';
import { setFill } from '../../svg/fills.ts';
import type { Cloth } from '../../../pattern/shop/cloth.ts';
import { hasPile } from '../../../pattern/shop/face.ts';
import { clothSample, wordCloth } from '../../../pattern/shop/cloth.ts';
import type { Entry } from '../../svg/legend.ts';
import { drawLegend, legendHeight } from '../../svg/legend.ts';
import type { Shown } from './lay-legend.ts';
import {
  drawFeedMark,
  drawOther,
  legendEntries,
  legendPicture,
  firstOfSets,
} from './lay-legend.ts';
import type { PartOnPage } from './part-picture.ts';
import {
  drawLabel,
  drawNumber,
  drawPart,
  fittedName,
  roomOn,
  setAndOrder,
} from './part-picture.ts';
import type { Row } from './roll-picture.ts';
import { drawEmptyRow, oblong } from './roll-picture.ts';
import { escapeXml, mm, pathData, svgPage } from '../../svg/svg.ts';

/** A roll without bites is drawn in rows of this length, mm. */
const rowWithoutBites = 4000;

/** How a picture of a lay is printed, in mm on paper. */
export interface LayLook {
  /** The width of the picture. */
  readonly width: number;
  readonly margin: number;
  /** The largest height of a row. */
  readonly row: number;
  /**
   * The numbers that a list beside the picture gives to parts, by their labels. They stand on parts that are too
   * small for their names. Other small parts are numbered behind them, with a key below the row.
   */
  readonly numbers?: ReadonlyMap<string, number>;
  /** The cloth and what the fills mean are said elsewhere. */
  readonly isBare?: true;
}

/** As wide as a paper. A4 and Letter have space below a row. */
const wide: LayLook = { width: 190, margin: 5, row: 120 };

/** Height of the type, mm on paper: 8 points. */
const layType = 2.9;

/** Lines nearer to each other than this (mm) look like one. */
const sameLine = 0.01;

/**
 * The rows in which a lay is drawn: the bed in each bite, or equal lengths of a roll without bites.
 * `planned` are the bites as they are cut. Left out: the bites of a lay whose parts all fit on the bed.
 */
export function rowsOf(
  lay: Pick<Lay, 'length' | 'rules' | 'placements'>,
  parts: readonly Part[],
  planned?: readonly PlannedBite[],
): Row[] {
  const { length, rules } = lay;
  const ending = (from: number, reach: number, longest: number): number =>
    Math.min(from + longest, Math.max(from + 0.25 * longest, Math.ceil(reach / 100) * 100 + 100));
  if (Number.isFinite(rules.biteLength)) {
    const byLabel = new Map(parts.map((part) => [part.label, part]));
    const reaches = lay.placements.map((placement) => {
      const { label } = placement;
      return { label, ...reachOf(byLabel.get(label)!, placement) };
    });
    const bites = planned?.map(plannedRow) ?? bitesOf(reaches, rules.biteLength).map(wholeRow);
    return bites.map(({ start, labels, marks }, i): Row => {
      const ends = reaches.filter(({ label }) => labels.has(label)).map(({ maxX }) => maxX);
      const to = ending(
        start,
        Math.min(Math.max(...ends), start + rules.biteLength),
        rules.biteLength,
      );
      return { from: start, to, bite: { number: i + 1, labels, marks } };
    });
  }
  const count = Math.max(1, Math.ceil(length / rowWithoutBites - 1e-9));
  return Array.from({ length: count }, (_, i) => {
    const from = i * rowWithoutBites;
    return { from, to: ending(from, length, rowWithoutBites) };
  });
}

type PlannedBite = Pick<Bite, 'start' | 'cuts' | 'check' | 'mark'>;

function plannedRow({ start, cuts, check, mark }: PlannedBite): BiteRow {
  const marks = [check, mark].filter((one) => one !== undefined);
  return { start, labels: new Set(cuts.map(({ label }) => label)), marks };
}

function wholeRow({ start, items }: OnBed<Reach & { label: string }>): BiteRow {
  return { start, labels: new Set(items.map(({ label }) => label)), marks: [] };
}

interface BiteRow {
  readonly start: number;
  readonly labels: ReadonlySet<string>;
  readonly marks: readonly Point[];
}

/** Sizes in a picture, in mm on the roll. */
interface PictureSize {
  readonly width: number;
  readonly margin: number;
  /** Height of the type. */
  readonly type: number;
}

/** The same, and what stands above each row. */
interface RowsLook extends PictureSize {
  readonly showsPile: boolean;
  /** As of a look. */
  readonly isBare: boolean;
}

/**
 * A picture of the lay as one SVG, bite below bite: the roll with selvedges and metre marks, waste grey,
 * parts filled by set with upright labels, parts of other bites white, cutouts open, marks dashed, an
 * arrow for the pile. A part that is too small for its name has a number. It is drawn from the same
 * contours as the cutter's files. Sizes are mm on the roll; if it is printed as wide as its look says, no type
 * is smaller than 8 points. Where the cloth of the roll has a colour, it is named above, and shown in the
 * legend.
 */
export function layPicture(
  lay: Lay,
  parts: readonly Part[],
  rows: readonly Row[] = rowsOf(lay, parts),
  cloth?: Cloth,
  look: LayLook = wide,
): string {
  const sheet = sheetFor(lay, rows, look);
  const { width, margin, type } = sheet;
  const all = drawnParts(lay, parts);
  const piled = cloth === undefined ? lay.rules.turns !== 'any' : hasPile(cloth.material);
  const rowsLook = { ...sheet, showsPile: piled, isBare: look.isBare === true };
  const body: string[] = [];
  const isNamed = cloth !== undefined && clothSample(cloth) !== undefined && look.isBare !== true;
  let top = 0;
  if (isNamed) {
    body.push(drawHeading(cloth, sheet));
    top += 2 * type;
  }
  for (const row of rows) {
    const { svg, height } = drawRow(lay, row, all, rowsLook, look.numbers);
    body.push(group(margin - row.from, top + 3 * type, svg));
    top += height;
  }
  const inner = width - 2 * margin;
  const entries = look.isBare === true ? [] : legendEntries(shownIn(parts, all, rows, cloth), type);
  if (entries.length > 0) {
    body.push(drawLegend(entries, margin, top + 0.5 * type, inner, type));
    top += legendHeight(entries, inner, type) + type;
  }
  return svgPage({ width, height: top, type }, `Lay of ${layName(lay)}`, [
    `<rect width="${mm(width)}" height="${mm(top)}" fill="#ffffff"/>`,
    ...body,
  ]);
}

/** What the fills and marks in all rows of a lay mean, as a picture `width` mm wide that stands apart from them. */
export function layLegend(
  lay: Lay,
  parts: readonly Part[],
  rows: readonly Row[],
  width: number,
): string {
  return legendPicture(shownIn(parts, drawnParts(lay, parts), rows), width, layType);
}

function shownIn(
  parts: readonly Part[],
  all: readonly PartInRow[],
  rows: readonly Row[],
  cloth?: Cloth,
): Shown {
  return {
    parts,
    drawn: all.filter((one) => rows.some((row) => isIn(row, one))).map(({ part }) => part),
    ...(cloth === undefined ? {} : { cloth }),
    hasOthers: rows.some((row) => all.some((one) => isOther(row, one))),
    hasMarks: rows.some(({ bite }) => (bite?.marks.length ?? 0) > 0),
  };
}

function sheetFor({ roll }: Lay, rows: readonly Row[], look: LayLook): PictureSize {
  const widest = Math.max(...rows.map(({ from, to }) => to - from));
  const scale = Math.max(widest / (look.width - 2 * look.margin), roll.width / look.row);
  return { width: look.width * scale, margin: look.margin * scale, type: layType * scale };
}

function group(x: number, y: number, content: string): string {
  return `<g transform="translate(${mm(x)} ${mm(y)})">\n${content}\n</g>`;
}

interface PartInRow extends PartOnPage {
  readonly reach: Reach;
}

/** The parts in the order in which they lie along the roll. */
function drawnParts(lay: Lay, parts: readonly Part[]): PartInRow[] {
  const onPage: Transform = { a: 1, b: 0, c: 0, d: -1, e: 0, f: lay.roll.width };
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const order = firstOfSets(parts).map(setAndOrder);
  return lay.placements
    .map((placement) => {
      const part = byLabel.get(placement.label);
      if (part === undefined) throw new RangeError(`no part ${placement.label}`);
      return {
        part,
        reach: reachOf(part, placement),
        transform: compose(onPage, placementTransform(placement)),
        fill: setFill(order.indexOf(setAndOrder(part))),
        pageDeg: part.pileDeg === null ? null : -(part.pileDeg + placement.rotation),
      };
    })
    .sort((a, b) => a.reach.minX - b.reach.minX);
}

/** Whether a part is cut in the bite of a row, or, in a row without bite, lies in it. */
function isIn(row: Row, one: PartInRow): boolean {
  return row.bite === undefined ? reachesInto(row, one) : row.bite.labels.has(one.part.label);
}

/** Whether a part reaches into a row. If it ends where the row begins it does not. */
function reachesInto({ from, to }: Row, { reach }: PartInRow): boolean {
  return reach.maxX > from + sameLine && reach.minX < to - sameLine;
}

/** Whether a part that is cut in another bite lies on the bed of this row. */
function isOther(row: Row, one: PartInRow): boolean {
  return !isIn(row, one) && reachesInto(row, one);
}

/** Draws the parts of other bites that reach onto the bed: white and without a name. */
function drawOthers(lay: Lay, row: Row, others: readonly PartOnPage[], type: number): string {
  if (others.length === 0) return '';
  const contours = others.map(({ part, transform }) =>
    pathData(transformPath(transform, part.cut)),
  );
  return clipped(
    lay,
    row,
    contours.map((d) => drawOther(d, type)),
  );
}

/** The content of a row, clipped at its edges. */
function clipped({ roll }: Lay, row: Row, content: readonly string[]): string {
  const [x, width, height] = [row.from, row.to - row.from, roll.width].map(mm);
  return [
    `<svg x="${x}" y="0" width="${width}" height="${height}" viewBox="${x} 0 ${width} ${height}">`,
    ...content,
    '</svg>',
  ].join('\n');
}

/**
 * A part that is cut in several bites, reduced to what lies in the row, so that its name stands there.
 */
function seenIn({ roll }: Lay, { from, to }: Row, one: PartInRow): PartInRow {
  if (!reachesOut({ from, to }, one)) return one;
  const inner = one.part.inner.map((hole) => ({
    ...hole,
    path: transformPath(one.transform, hole.path),
  }));
  const outline = flatten(transformPath(one.transform, one.part.cut), 1);
  const pieces = polygonClipping
    .intersection([ringOf(oblong(from, 0, to, roll.width).vertices)], [ringOf(outline)])
    .map(([ring]) =>
      polyline(
        ring!.slice(0, -1).map(([x, y]) => ({ x, y })),
        true,
      ),
    )
    .sort((a, b) => areaOf(b) - areaOf(a));
  const [cut = one.part.cut] = pieces;
  return { ...one, transform: identity, part: { ...one.part, cut, inner } };
}

function ringOf(points: readonly Point[]): [number, number][] {
  return points.map(({ x, y }) => [rounded(x, 6), rounded(y, 6)]);
}

function reachesOut({ from, to }: Row, { reach }: PartInRow): boolean {
  return reach.minX < from - sameLine || reach.maxX > to + sameLine;
}

function drawRow(
  lay: Lay,
  row: Row,
  drawn: readonly PartInRow[],
  { width, margin, type, showsPile, isBare }: RowsLook,
  numbers: ReadonlyMap<string, number> = new Map(),
): { svg: string; height: number } {
  const inRow = drawn.filter((one) => isIn(row, one));
  const others = drawn.filter((one) => isOther(row, one));
  const { labels, key } = labelParts(
    inRow.map((one) => (row.bite === undefined ? one : seenIn(lay, row, one))),
    type,
    numbers,
  );
  const keyWidth = width - 2 * margin;
  const svg = [
    drawEmptyRow(lay, row, { type, width: width - 2 * margin, showsPile, isBare }),
    drawOthers(lay, row, others, type),
    ...inRow.map((one) =>
      row.bite !== undefined && reachesOut(row, one)
        ? clipped(lay, row, [drawPart(one, type)])
        : drawPart(one, type),
    ),
    ...(row.bite?.marks ?? []).map(({ x, y }) =>
      drawFeedMark({ x, y: lay.roll.width - y }, Math.max(2 * markArm, type), type),
    ),
    ...labels,
    drawLegend(key, row.from, lay.roll.width + 2.4 * type, keyWidth, type),
  ];
  return {
    svg: svg.join('\n'),
    height: lay.roll.width + 5.2 * type + legendHeight(key, keyWidth, type),
  };
}

/** The names of parts, or numbers where names do not fit, and the key to the numbers. */
function labelParts(
  drawn: readonly PartOnPage[],
  type: number,
  numbers: ReadonlyMap<string, number>,
): { labels: string[]; key: Entry[] } {
  const key: Entry[] = [];
  const labels = drawn.map((one) => {
    const room = roomOn(one);
    const name = fittedName(one, room, type);
    if (name !== null) return drawLabel(name, one.pageDeg);
    const known = numbers.get(one.part.label);
    if (known !== undefined) return drawNumber(one, room, known, type);
    const next = numbers.size + key.length + 1;
    key.push(keyEntry(one.part, next));
    return drawNumber(one, room, next, type);
  });
  return { labels, key };
}

function keyEntry(part: Part, number: number): Entry {
  return { mark: `<text font-weight="bold">${number}</text>`, words: part.label };
}

/** The cloth of the roll, above its first row. */
function drawHeading(cloth: Cloth, { margin, type }: PictureSize): string {
  const words = escapeXml(cutShort(wordCloth(cloth), 75));
  return `<text x="${mm(margin)}" y="${mm(1.6 * type)}" font-size="${mm(1.3 * type)}" font-weight="bold">${words}</text>`;
}
