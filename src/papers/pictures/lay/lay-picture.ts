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
import { drawFill, setFill } from '../../svg/fills.ts';
import type { Cloth } from '../../../pattern/shop/cloth.ts';
import { clothSample, wordCloth } from '../../../pattern/shop/cloth.ts';
import type { Entry } from '../../svg/legend.ts';
import { drawLegend, legendHeight } from '../../svg/legend.ts';
import type { PartOnPage } from './part-picture.ts';
import { drawLabel, drawNumber, drawPart, fittedName, setAndOrder } from './part-picture.ts';
import type { Row } from './roll-picture.ts';
import { drawEmptyRow, oblong } from './roll-picture.ts';
import { drawCross, escapeXml, mm, pathData, svgPage } from '../../svg/svg.ts';
import { drawSwatch } from '../../svg/swatch.ts';

/** A roll without bites is drawn in rows of this length, mm. */
const rowWithoutBites = 4000;

/**
 * The paper that pictures are made for, in mm: their width when printed, and the largest height of a row,
 * so that A4 and Letter have space below for the order of cutting. Type of 2.9 mm has 8 points.
 */
const paper = { width: 190, margin: 5, row: 120, type: 2.9 };

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

/**
 * A picture of the lay as one SVG, bite below bite: the roll with selvedges and metre marks, waste grey,
 * parts filled by set with upright labels, parts of other bites white, cutouts open, marks dashed, an
 * arrow for the pile. A part that is too small for its name has a number. It is drawn from the same
 * contours as the cutter's files. Sizes are mm on the roll; if it is printed 190 mm wide, no type is
 * smaller than 8 points. Where the cloth of the roll has a colour, it is named above, and shown in the
 * legend.
 */
export function layPicture(
  lay: Lay,
  parts: readonly Part[],
  rows: readonly Row[] = rowsOf(lay, parts),
  cloth?: Cloth,
): string {
  const sheet = sheetFor(lay, rows);
  const { width, margin, type } = sheet;
  const all = drawnParts(lay, parts);
  const drawn = all.filter((one) => rows.some((row) => isIn(row, one)));
  const body: string[] = [];
  const sample = cloth === undefined ? undefined : clothSample(cloth);
  let top = 0;
  if (cloth !== undefined && sample !== undefined) {
    body.push(drawHeading(cloth, sheet));
    top += 2 * type;
  }
  for (const row of rows) {
    const { svg, height } = drawRow(lay, row, all, sheet);
    body.push(group(margin - row.from, top + 3 * type, svg));
    top += height;
  }
  const hasOthers = rows.some((row) => all.some((one) => isOther(row, one)));
  const hasMarks = rows.some(({ bite }) => (bite?.marks.length ?? 0) > 0);
  const sets = [
    ...(sample === undefined ? [] : [clothEntry(sample, cloth!.colour!, type)]),
    ...setEntries(parts, drawn, type),
    ...(hasOthers ? [othersEntry(type)] : []),
    ...(hasMarks ? [markEntry(type)] : []),
  ];
  const inner = width - 2 * margin;
  body.push(drawLegend(sets, margin, top + 0.5 * type, inner, type));
  const height = top + legendHeight(sets, inner, type) + type;
  return svgPage({ width, height, type }, `Lay of ${layName(lay)}`, [
    `<rect width="${mm(width)}" height="${mm(height)}" fill="#ffffff"/>`,
    ...body,
  ]);
}

function sheetFor({ roll }: Lay, rows: readonly Row[]): PictureSize {
  const widest = Math.max(...rows.map(({ from, to }) => to - from));
  const scale = Math.max(widest / (paper.width - 2 * paper.margin), roll.width / paper.row);
  return {
    width: paper.width * scale,
    margin: paper.margin * scale,
    type: paper.type * scale,
  };
}

function group(x: number, y: number, content: string): string {
  return `<g transform="translate(${mm(x)} ${mm(y)})">\n${content}\n</g>`;
}

/** The first part of each set, in the order of the sets. */
function setsOf(parts: readonly Part[]): Part[] {
  const first = new Map<string, Part>();
  for (const part of parts) {
    if (!first.has(setAndOrder(part))) first.set(setAndOrder(part), part);
  }
  return [...first.values()];
}

interface PartInRow extends PartOnPage {
  readonly reach: Reach;
}

/** The parts in the order in which they lie along the roll. */
function drawnParts(lay: Lay, parts: readonly Part[]): PartInRow[] {
  const onPage: Transform = { a: 1, b: 0, c: 0, d: -1, e: 0, f: lay.roll.width };
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const order = setsOf(parts).map(setAndOrder);
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
  { width, margin, type }: PictureSize,
): { svg: string; height: number } {
  const inRow = drawn.filter((one) => isIn(row, one));
  const others = drawn.filter((one) => isOther(row, one));
  const { labels, key } = labelParts(
    inRow.map((one) => (row.bite === undefined ? one : seenIn(lay, row, one))),
    type,
  );
  const keyWidth = width - 2 * margin;
  const svg = [
    drawEmptyRow(lay, row, type),
    drawOthers(lay, row, others, type),
    ...inRow.map((one) =>
      row.bite !== undefined && reachesOut(row, one)
        ? clipped(lay, row, [drawPart(one, type)])
        : drawPart(one, type),
    ),
    ...(row.bite?.marks ?? []).map(({ x, y }) => drawMark({ x, y: lay.roll.width - y }, type)),
    ...labels,
    drawLegend(key, row.from, lay.roll.width + 2.4 * type, keyWidth, type),
  ];
  return {
    svg: svg.join('\n'),
    height: lay.roll.width + 5.2 * type + legendHeight(key, keyWidth, type),
  };
}

/** Draws a registration mark, at least as large as can be seen. */
function drawMark(at: Point, type: number): string {
  return drawCross(
    at,
    Math.max(2 * markArm, type),
    `stroke="#7a2e1d" stroke-width="${mm(type / 7)}"`,
  );
}

/** The names of parts, or numbers where names do not fit, and the key to the numbers. */
function labelParts(
  drawn: readonly PartOnPage[],
  type: number,
): { labels: string[]; key: Entry[] } {
  const key: Entry[] = [];
  const labels = drawn.map((one) => {
    const name = fittedName(one, type);
    if (name !== null) return drawLabel(name, one.pageDeg);
    key.push(keyEntry(one.part, key.length + 1));
    return drawNumber(one, key.length, type);
  });
  return { labels, key };
}

function keyEntry(part: Part, number: number): Entry {
  return { mark: `<text font-weight="bold">${number}</text>`, words: part.label };
}

/** The legend of the sets that are shown. */
function setEntries(parts: readonly Part[], drawn: readonly PartOnPage[], type: number): Entry[] {
  const shown = new Set(drawn.map(({ part }) => setAndOrder(part)));
  return setsOf(parts).flatMap((set, i) =>
    shown.has(setAndOrder(set)) ? [setEntry(set, i, type)] : [],
  );
}

function setEntry({ order, set, hand }: Part, index: number, type: number): Entry {
  const swatch = oblong(0, -type, 2 * type, 0.2 * type);
  const line = `fill="none" stroke="#1b1b1b" stroke-width="${mm(type / 20)}"`;
  return {
    mark: `${drawFill(setFill(index), [swatch], type / 2)}<path d="${pathData(swatch)}" ${line}/>`,
    words: `order ${order}, set ${set}, ${hand}`,
  };
}

/** The cloth of the roll, above its first row. */
function drawHeading(cloth: Cloth, { margin, type }: PictureSize): string {
  const words = escapeXml(cutShort(wordCloth(cloth), 75));
  return `<text x="${mm(margin)}" y="${mm(1.6 * type)}" font-size="${mm(1.3 * type)}" font-weight="bold">${words}</text>`;
}

function clothEntry(sample: string, colour: string, type: number): Entry {
  const size = { width: 2 * type, height: 1.2 * type, line: type / 20 };
  return { mark: drawSwatch(sample, { x: 0, y: -type }, size), words: `cloth: ${colour}` };
}

function drawOther(d: string, type: number): string {
  return `<path d="${d}" fill="#ffffff" stroke="#8b877f" stroke-width="${mm(type / 16)}" stroke-dasharray="${mm(type / 2)} ${mm(type / 3)}"/>`;
}

function markEntry(type: number): Entry {
  return { mark: drawMark({ x: type, y: -0.4 * type }, type), words: 'mark for the feed' };
}

function othersEntry(type: number): Entry {
  return {
    mark: drawOther(pathData(oblong(0, -type, 2 * type, 0.2 * type)), type),
    words: 'cut in another bite',
  };
}
