import type { Box } from '../geometry/box.ts';
import {
  boxOfPath,
  boxesOverlap,
  emptyBox,
  growBox,
  heightOf,
  unionBox,
  widthOf,
} from '../geometry/box.ts';
import type { Path } from '../geometry/path.ts';
import { polyline } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { Transform } from '../geometry/transform.ts';
import { transformPath, transformPoint } from '../geometry/transform.ts';
import type { Entry } from '../papers/legend.ts';
import { drawLegend, legendHeight } from '../papers/legend.ts';
import { cross, escapeXml, mm, pathData } from '../papers/svg.ts';
import { counted } from '../papers/words.ts';
import { wrapped } from '../papers/wrap.ts';
import type { Comparable, Item } from './comparable.ts';
import type { Comparison } from './compare.ts';
import type { Difference } from './difference.ts';

/** mm on paper; type of 2.9 mm is 8 points. */
const page = { width: 190, margin: 3, highest: 110 };
const type = 2.9;
/** Before and after are told apart by their strokes; colour only helps. */
const strokes = {
  same: 'fill="none" stroke="#a9a59d" stroke-width="0.2"',
  before: 'fill="none" stroke="#1f5fa8" stroke-width="0.35" stroke-dasharray="1.6 0.9"',
  after: 'fill="none" stroke="#b0300f" stroke-width="0.5"',
} as const;
const ring = 2.5;
/** More than these are left to the table. */
const mostTold = 60;

/**
 * Two inputs over each other: what is the same thin, what differs dashed as it was and solid as it is, with
 * a numbered ring where each difference is and a list of what it is. Only sheets with differences, one
 * under the other. Its unit is mm on paper.
 */
export function overlayPicture(
  comparison: Comparison,
  before: Comparable,
  after: Comparable,
): string {
  const { differences } = comparison;
  const told = differences.slice(0, mostTold);
  const numbers = new Map(told.map((one, i) => [one, i + 1]));
  const sheets = [...new Set(told.flatMap(({ sheet }) => (sheet === null ? [] : [sheet])))];
  const parts: string[] = [];
  let top = 16;
  for (const sheet of sheets) {
    const own = told.filter((one) => one.sheet === sheet);
    const drawn = drawSheet(sheet, own, before, after, numbers);
    parts.push(`<g transform="translate(0 ${mm(top)})">${drawn.svg}</g>`);
    top += drawn.height + 5;
  }
  const legend = legendEntries();
  parts.push(drawLegend(legend, 0, top, page.width, type));
  top += legendHeight(legend, page.width, type) + 3;
  const list = drawList(told, differences.length, numbers, top);
  parts.push(list.svg);
  const height = top + list.height;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 ${page.width} ${mm(height)}" font-family="'DejaVu Sans', Arial, sans-serif" font-size="${type}" fill="#1b1b1b">`,
    `<title>${escapeXml(`${comparison.before} and ${comparison.after}`)}</title>`,
    `<rect width="${page.width}" height="${mm(height)}" fill="#ffffff"/>`,
    `<text y="5" font-size="5" font-weight="bold">${counted(differences.length, 'difference')}</text>`,
    `<text y="9.5">before: ${escapeXml(shortened(comparison.before))}</text>`,
    `<text y="13.3">after: ${escapeXml(shortened(comparison.after))}</text>`,
    ...parts,
    '</svg>\n',
  ].join('\n');
}

/** The end of a long name tells it from others. */
function shortened(name: string): string {
  const letters = [...name];
  return letters.length <= 95 ? name : `…${letters.slice(-94).join('')}`;
}

/** A sheet in rows, those of them in which something differs. */
function drawSheet(
  sheet: string,
  differences: readonly Difference[],
  before: Comparable,
  after: Comparable,
  numbers: ReadonlyMap<Difference, number>,
): { svg: string; height: number } {
  const items = [before, after].map((one) => one.items.filter((item) => item.sheet === sheet));
  const drawn: Drawn = {
    same: unchanged(items[0]!, items[1]!),
    ...unlike(items[0]!, items[1]!),
  };
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
  return { svg: [title, ...svg].join('\n'), height: top };
}

interface Drawn {
  readonly same: readonly Path[];
  readonly was: readonly Path[];
  readonly is: readonly Path[];
}

/** What is long is cut across into rows, so that parts stay large enough to be seen. */
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
  { same, was, is }: Drawn,
  differences: readonly Difference[],
  numbers: ReadonlyMap<Difference, number>,
): { svg: string; height: number } {
  const onPage = placeOnPage(box);
  const height = onPage.a * heightOf(box) + 2 * page.margin;
  const seen = growBox(box, page.margin / onPage.a);
  const near = (paths: readonly Path[]): Path[] =>
    paths.filter((path) => boxesOverlap(growBox(boxOfPath(path), 1e-3), seen));
  const width = onPage.a * widthOf(box) + 2 * page.margin;
  const svg = [
    `<svg width="${mm(width)}" height="${mm(height)}" viewBox="0 0 ${mm(width)} ${mm(height)}">`,
    ...drawPaths(near(same), onPage, strokes.same),
    ...drawPaths(near(was), onPage, strokes.before),
    ...drawPaths(near(is), onPage, strokes.after),
    '</svg>',
    ...drawRings(differences, numbers, onPage, height),
  ];
  return { svg: svg.join('\n'), height };
}

function pathsOf({ outline, details }: Item): Path[] {
  return [outline, ...details.map(({ path }) => path)];
}

/** What is in both, number for number. */
function unchanged(before: readonly Item[], after: readonly Item[]): Path[] {
  const known = new Set(after.flatMap(pathsOf).map(keyOf));
  return before.flatMap(pathsOf).filter((path) => known.has(keyOf(path)));
}

function unlike(before: readonly Item[], after: readonly Item[]): Omit<Drawn, 'same'> {
  const [was, is] = [before, after].map((items) => items.flatMap(pathsOf));
  const [old, young] = [was!, is!].map((paths) => new Set(paths.map(keyOf)));
  return {
    was: was!.filter((path) => !young!.has(keyOf(path))),
    is: is!.filter((path) => !old!.has(keyOf(path))),
  };
}

function keyOf({ closed, vertices }: Path): string {
  return `${closed} ${vertices.map(({ x, y, bulge }) => `${x.toFixed(4)},${y.toFixed(4)},${bulge.toFixed(5)}`).join(' ')}`;
}

function placeOnPage(box: Box): Transform {
  const wide = page.width - 2 * page.margin;
  const scale = Math.min(wide / widthOf(box), page.highest / heightOf(box));
  return {
    a: scale,
    b: 0,
    c: 0,
    d: -scale,
    e: page.margin - scale * box.minX,
    f: page.margin + scale * box.maxY,
  };
}

function drawPaths(paths: readonly Path[], onPage: Transform, style: string): string[] {
  if (paths.length === 0) return [];
  const placed = paths.map((path) => transformPath(onPage, path));
  const points = placed.filter(({ vertices }) => vertices.length === 1);
  const lines = placed.filter(({ vertices }) => vertices.length > 1);
  return [
    `<path d="${lines.map(pathData).join('')}" ${style}/>`,
    ...points.map(({ vertices }) => cross(vertices[0]!, 1.6, style.replace('fill="none" ', ''))),
  ];
}

/** A ring at each difference, moved aside where one is there already, with a line to its place. */
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
    const at = freePlace(place, taken, height);
    taken.push(at);
    const line =
      distance(at, place) < 0.5
        ? ''
        : `<path d="M${mm(place.x)} ${mm(place.y)}L${mm(at.x)} ${mm(at.y)}" stroke="#1b1b1b" stroke-width="0.2"/><circle cx="${mm(place.x)}" cy="${mm(place.y)}" r="0.6" fill="#1b1b1b"/>`;
    return [
      `${line}<circle cx="${mm(at.x)}" cy="${mm(at.y)}" r="${ring}" fill="#ffffff" stroke="#1b1b1b" stroke-width="0.3"/><text x="${mm(at.x)}" y="${mm(at.y + 0.36 * type)}" text-anchor="middle" font-weight="bold">${numbers.get(one)!}</text>`,
    ];
  });
}

/** The place itself, or the nearest one of some rounds about it that is free. */
function freePlace(place: Point, taken: readonly Point[], height: number): Point {
  const isFree = (p: Point): boolean =>
    p.x >= ring &&
    p.x <= page.width - ring &&
    p.y >= 0 &&
    p.y <= height &&
    taken.every((other) => distance(other, p) >= 2 * ring + 0.3);
  for (let round = 0; round < 12; round++) {
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

function legendEntries(): Entry[] {
  const sample = polyline(
    [
      { x: 0, y: -0.9 },
      { x: 5.8, y: -0.9 },
    ],
    false,
  );
  const entry = (style: string, words: string): Entry => ({
    mark: `<path d="${pathData(sample)}" ${style}/>`,
    words,
  });
  return [
    entry(strokes.same, 'the same in both'),
    entry(strokes.before, 'as it was, dashed'),
    entry(strokes.after, 'as it is, solid'),
  ];
}

function drawList(
  told: readonly Difference[],
  count: number,
  numbers: ReadonlyMap<Difference, number>,
  top: number,
): { svg: string; height: number } {
  const line = 1.3 * type;
  let y = top;
  const rows = told.map((one) => {
    const label = one.label ?? (one.sheet === null || one.sheet === '' ? 'the whole' : one.sheet);
    const lines = wrapped(`${label}: ${one.message}`, (page.width - 9) / (0.9 * type));
    const at = y;
    y += lines.length * line + 0.5;
    return `<text x="6" y="${mm(at + line)}" text-anchor="end" font-weight="bold">${numbers.get(one)!}</text>${lines.map((words, k) => `<text x="8.5" y="${mm(at + (k + 1) * line)}">${escapeXml(words)}</text>`).join('')}`;
  });
  const more =
    count > told.length
      ? [`<text x="8.5" y="${mm(y + line)}">and ${count - told.length} more: see the table</text>`]
      : [];
  return { svg: [...rows, ...more].join('\n'), height: y - top + (more.length > 0 ? line : 0) + 3 };
}
