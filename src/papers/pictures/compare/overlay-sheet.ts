import type { Box } from '../../../geometry/paths/box.ts';
import {
  boxesOverlap,
  emptyBox,
  growBox,
  heightOf,
  unionBox,
  widthOf,
} from '../../../geometry/paths/box.ts';
import { boxOfPath } from '../../../geometry/paths/path.ts';
import type { Path } from '../../../geometry/paths/path.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import { distance } from '../../../geometry/paths/point.ts';
import type { Transform } from '../../../geometry/paths/transform.ts';
import { transformPath, transformPoint } from '../../../geometry/paths/transform.ts';
import { drawCross, escapeXml, mm, pathData, ringed } from '../../svg/svg.ts';
import type { Comparable, Item } from '../../../compare/comparable.ts';
import type { Difference } from '../../../compare/difference.ts';

/** Sizes in mm on paper. */
export const page = { width: 190, margin: 3, highest: 110 };
export const type = 2.9;
/**
 * The strokes of what was before and of what is after. They differ in black and white; colour only helps.
 */
export const strokes = {
  same: 'fill="none" stroke="#a9a59d" stroke-width="0.2"',
  before: 'fill="none" stroke="#1f5fa8" stroke-width="0.35" stroke-dasharray="1.6 0.9"',
  after: 'fill="none" stroke="#b0300f" stroke-width="0.5"',
} as const;
const ring = 2.5;
/** Radius of the open ring round a place. */
const dot = 1;

/** Whether everything, or a whole sheet, is larger, mirrored, turned or moved. */
export function isOfAll({ kind, label }: Pick<Difference, 'kind' | 'label'>): boolean {
  return label === null && ['scale', 'mirrored', 'turned', 'moved'].includes(kind);
}

/** Draws the rows of a sheet in which something differs. */
export function drawSheet(
  sheet: string,
  differences: readonly Difference[],
  before: Comparable,
  after: Comparable,
  numbers: ReadonlyMap<Difference, number>,
): { svg: string; height: number } {
  const items = [before, after].map((one) => one.items.filter((item) => item.sheet === sheet));
  const drawn = sorted(items[0]!, items[1]!);
  const whole = growBox(items.flat().flatMap(pathsOf).map(boxOfPath).reduce(unionBox, emptyBox), 1);
  const all = rowsOf(whole).map((box) => ({
    box,
    own: differences.filter(({ at }) => at !== null && isIn(at, box)),
  }));
  // What has become of the whole has no place of its own: then all of it is shown.
  const isWhole = differences.some(isOfAll);
  const rows = isWhole ? all : all.filter(({ own }) => own.length > 0);
  let top = sheet === '' ? 0 : 1.6 * type;
  const title =
    sheet === '' ? '' : `<text y="${type}" font-weight="bold">${escapeXml(sheet)}</text>`;
  const svg = rows.map(({ box, own }) => {
    const row = drawRow(box, drawn, own, numbers);
    const placed = `<g transform="translate(0 ${mm(top)})">${row.svg}</g>`;
    top += row.height + 2;
    return placed;
  });
  return { svg: [title, ...svg].join('\n'), height: top };
}

/** What is drawn of two inputs: what is in both, and what is in only one. */
export interface OverlayPaths {
  readonly same: readonly Path[];
  readonly was: readonly Path[];
  readonly is: readonly Path[];
}

/** Divides a long box into rows, so that parts stay large enough to be seen. */
function rowsOf(box: Box): Box[] {
  const longest = Math.max(2.2 * heightOf(box), 1);
  const count = Math.max(1, Math.ceil(widthOf(box) / longest - 0.2));
  const step = widthOf(box) / count;
  return Array.from({ length: count }, (_, i) => ({
    ...box,
    minX: box.minX + i * step,
    maxX: i === count - 1 ? box.maxX : box.minX + (i + 1) * step,
  }));
}

function isIn({ x }: Point, { minX, maxX }: Box): boolean {
  return x >= minX && x < maxX + 1e-9;
}

function drawRow(
  box: Box,
  drawn: OverlayPaths,
  differences: readonly Difference[],
  numbers: ReadonlyMap<Difference, number>,
): { svg: string; height: number } {
  const scale = Math.min(
    (page.width - 2 * page.margin) / widthOf(box),
    page.highest / heightOf(box),
  );
  const seen = growBox(box, page.margin / scale);
  const [width, height] = [scale * widthOf(seen), scale * heightOf(seen)];
  const onPage = placeOnPage(seen, width, height);
  const svg = [
    drawWindow(seen, drawn, onPage, width, height),
    ...drawRings(differences, numbers, onPage, height),
  ];
  return { svg: svg.join('\n'), height };
}

/** What both inputs have inside a box, clipped at its edges. */
export function drawWindow(
  box: Box,
  { same, was, is }: OverlayPaths,
  onPage: Transform,
  width: number,
  height: number,
): string {
  const near = (paths: readonly Path[]): Path[] =>
    paths.filter((path) => boxesOverlap(growBox(boxOfPath(path), 1e-3), box));
  return [
    `<svg width="${mm(width)}" height="${mm(height)}" viewBox="0 0 ${mm(width)} ${mm(height)}">`,
    ...drawPaths(near(same), onPage, strokes.same),
    ...drawPaths(near(was), onPage, strokes.before),
    ...drawPaths(near(is), onPage, strokes.after),
    '</svg>',
  ].join('\n');
}

function pathsOf({ outline, details }: Item): Path[] {
  return [outline, ...details.map(({ path }) => path)];
}

/**
 * Sorts paths into those that are in both inputs, equal in every number, and those that are in only one.
 */
export function sorted(before: readonly Item[], after: readonly Item[]): OverlayPaths {
  const [was, is] = [before, after].map((items) =>
    items.flatMap(pathsOf).map((path) => ({ path, key: keyOf(path) })),
  );
  const [old, young] = [was!, is!].map((paths) => new Set(paths.map(({ key }) => key)));
  const pathsThat = (paths: typeof was & {}, fits: (key: string) => boolean): Path[] =>
    paths.filter(({ key }) => fits(key)).map(({ path }) => path);
  return {
    same: pathsThat(was!, (key) => young!.has(key)),
    was: pathsThat(was!, (key) => !young!.has(key)),
    is: pathsThat(is!, (key) => !old!.has(key)),
  };
}

function keyOf({ closed, vertices }: Path): string {
  return `${closed} ${vertices.map(({ x, y, bulge }) => `${x.toFixed(4)},${y.toFixed(4)},${bulge.toFixed(5)}`).join(' ')}`;
}

/** The transform that shows a box as large as possible on a space of the page, y down. */
export function placeOnPage(box: Box, width: number, height: number): Transform {
  const scale = Math.min(width / widthOf(box), height / heightOf(box));
  return { a: scale, b: 0, c: 0, d: -scale, e: -scale * box.minX, f: scale * box.maxY };
}

function drawPaths(paths: readonly Path[], onPage: Transform, style: string): string[] {
  if (paths.length === 0) return [];
  const placed = paths.map((path) => transformPath(onPage, path));
  const points = placed.filter(({ vertices }) => vertices.length === 1);
  const lines = placed.filter(({ vertices }) => vertices.length > 1);
  return [
    ...lines.map((path) => drawLine(path, style)),
    ...points.map(({ vertices }) =>
      drawCross(vertices[0]!, 1.6, style.replace('fill="none" ', '')),
    ),
  ];
}

/**
 * Draws a line. A dashed one is drawn on a white line, because the dashes of two lines on top of each
 * other would fill each other's gaps.
 */
function drawLine(path: Path, style: string): string {
  const line = `<path d="${pathData(path)}" ${style}/>`;
  return style.includes('dasharray')
    ? `<path d="${pathData(path)}" fill="none" stroke="#ffffff" stroke-width="0.5"/>${line}`
    : line;
}

/** So far from its place, mm on paper, a number stands at least: it must not hide what it points at. */
const aside = 5.2;

/** Draws a number for each difference, beside its place, with a line to a small open ring there. */
function drawRings(
  differences: readonly Difference[],
  numbers: ReadonlyMap<Difference, number>,
  onPage: Transform,
  height: number,
): string[] {
  const places = differences.flatMap((one) =>
    one.at === null || !numbers.has(one)
      ? []
      : [{ number: numbers.get(one)!, place: transformPoint(onPage, one.at) }],
  );
  const taken: Point[] = [];
  return places.map(({ number, place }) => {
    const near = places.flatMap((other) => (other.place === place ? [] : [other.place]));
    const at = freePlace(place, taken, near, height);
    taken.push(at);
    const length = Math.max(distance(at, place), 1e-9);
    const end = (from: number): Point => ({
      x: place.x + ((at.x - place.x) / length) * from,
      y: place.y + ((at.y - place.y) / length) * from,
    });
    const [edge, foot] = [end(dot), end(length - ring)];
    const line =
      length < ring + dot
        ? ''
        : `<path d="M${mm(edge.x)} ${mm(edge.y)}L${mm(foot.x)} ${mm(foot.y)}" stroke="#1b1b1b" stroke-width="0.2"/>`;
    const mark = `<circle cx="${mm(place.x)}" cy="${mm(place.y)}" r="${dot}" fill="none" stroke="#1b1b1b" stroke-width="0.25"/>`;
    return mark + line + ringed(number, at, { radius: ring, weight: 0.3, type });
  });
}

/** The nearest place beside a place that is free of other numbers and of their places. */
function freePlace(
  place: Point,
  taken: readonly Point[],
  near: readonly Point[],
  height: number,
): Point {
  const isFree = (p: Point): boolean =>
    p.x >= ring &&
    p.x <= page.width - ring &&
    p.y >= ring &&
    p.y <= height - ring &&
    taken.every((other) => distance(other, p) >= 2 * ring + 0.3) &&
    near.every((other) => distance(other, p) >= ring + dot);
  for (let round = 0; round < 14; round++) {
    const away = aside + 2.6 * round;
    const count = 12 + 4 * round;
    for (let k = 0; k < count; k++) {
      // First up and to the right, where a reader looks for it.
      const angle = -Math.PI / 4 + (2 * Math.PI * k) / count;
      const p = { x: place.x + away * Math.cos(angle), y: place.y + away * Math.sin(angle) };
      if (isFree(p)) return p;
    }
  }
  return { x: Math.min(place.x + aside, page.width - ring), y: Math.max(place.y - aside, ring) };
}
