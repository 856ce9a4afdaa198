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
import { decimal } from '../../../base/numbers.ts';
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
  const rows = rowsOf(whole)
    .map((box) => ({ box, own: differences.filter(({ at }) => at !== null && isIn(at, box)) }))
    .filter(({ own }) => own.length > 0);
  let top = sheet === '' ? 0 : 1.6 * type;
  const title =
    sheet === '' ? '' : `<text y="${type}" font-weight="bold">${escapeXml(sheet)}</text>`;
  const svg = rows.map(({ box, own }) => {
    const row = drawRow(box, drawn, own, numbers);
    const placed = `<g transform="translate(0 ${mm(top)})">${row.svg}</g>`;
    top += row.height + 2;
    return placed;
  });
  const close = drawCloseUps(differences, drawn, numbers, top);
  return { svg: [title, ...svg, close.svg].join('\n'), height: top + close.height };
}

/**
 * Size of a close-up and the space between them, mm on paper; how large a difference should be in it; how
 * many there are at most.
 */
const closeUp = { size: 44, gap: 4.6, shown: 5, most: 8 };

/** Close-ups of what differs too little to be seen in the whole picture. */
function drawCloseUps(
  differences: readonly Difference[],
  drawn: OverlayPaths,
  numbers: ReadonlyMap<Difference, number>,
  top: number,
): { svg: string; height: number } {
  const small = differences.filter(
    ({ kind, distance: off }) =>
      (kind === 'outline' || kind === 'detail') && off !== null && off < smallest,
  );
  const perRow = Math.floor((page.width + closeUp.gap) / (closeUp.size + closeUp.gap));
  const pitch = closeUp.size + 2 * type;
  const svg = small.slice(0, closeUp.most).map((one, i) => {
    const half = (closeUp.size / 2 / closeUp.shown) * Math.max(one.distance!, 0.01);
    const at = one.at!;
    const box = { minX: at.x - half, minY: at.y - half, maxX: at.x + half, maxY: at.y + half };
    const onPage = placeOnPage(box, closeUp.size, closeUp.size);
    const x = (i % perRow) * (closeUp.size + closeUp.gap);
    const y = top + Math.floor(i / perRow) * pitch;
    const words = `${numbers.get(one)!}, ${decimal(2 * half, 1)} mm across`;
    return [
      `<g transform="translate(${mm(x)} ${mm(y)})">`,
      drawWindow(box, drawn, onPage, closeUp.size, closeUp.size),
      `<rect x="0" y="0" width="${closeUp.size}" height="${closeUp.size}" fill="none" stroke="#1b1b1b" stroke-width="0.25"/>`,
      `<text y="${mm(closeUp.size + 1.3 * type)}">${words}</text></g>`,
    ].join('\n');
  });
  return { svg: svg.join('\n'), height: Math.ceil(svg.length / perRow) * pitch };
}

/** A difference smaller than this (mm) gets a close-up. */
const smallest = 15;

interface OverlayPaths {
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
function drawWindow(
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
function sorted(before: readonly Item[], after: readonly Item[]): OverlayPaths {
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
function placeOnPage(box: Box, width: number, height: number): Transform {
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

/**
 * Draws a ring for each difference. If one is there already it is moved aside, with a line to its place.
 */
function drawRings(
  differences: readonly Difference[],
  numbers: ReadonlyMap<Difference, number>,
  onPage: Transform,
  height: number,
): string[] {
  const taken: Point[] = [];
  return differences.flatMap((one) => {
    if (one.at === null) return [];
    const place = transformPoint(onPage, one.at);
    // A fine difference is ringed beside its place, so that it is seen; a coarse one at its place.
    const isFine = one.kind === 'outline' || one.kind === 'detail';
    const at = freePlace(place, taken, height, isFine ? 2 : 0);
    taken.push(at);
    const line =
      distance(at, place) < 0.5
        ? ''
        : `<path d="M${mm(place.x)} ${mm(place.y)}L${mm(at.x)} ${mm(at.y)}" stroke="#1b1b1b" stroke-width="0.2"/><circle cx="${mm(place.x)}" cy="${mm(place.y)}" r="0.6" fill="#1b1b1b"/>`;
    return [line + ringed(numbers.get(one)!, at, { radius: ring, weight: 0.3, type })];
  });
}

/** The place itself, or the nearest free one on some rings round it. */
function freePlace(place: Point, taken: readonly Point[], height: number, nearest: number): Point {
  const isFree = (p: Point): boolean =>
    p.x >= ring &&
    p.x <= page.width - ring &&
    p.y >= 0 &&
    p.y <= height &&
    taken.every((other) => distance(other, p) >= 2 * ring + 0.3);
  for (let round = nearest; round < nearest + 12; round++) {
    for (let k = 0; k < Math.max(1, 8 * round); k++) {
      const angle = (2 * Math.PI * k) / Math.max(1, 8 * round);
      const p = {
        x: place.x + round * 3 * Math.cos(angle),
        y: place.y + round * 3 * Math.sin(angle),
      };
      if (isFree(p)) return p;
    }
  }
  return place;
}
