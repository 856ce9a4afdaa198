import { emptyBox, heightOf, unionBox } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { roomiestPoint } from '../../geometry/relations/interior.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import { transformPath } from '../../geometry/paths/transform.ts';
import type { Part } from '../../handing/part.ts';
import { strayPieces } from '../../handing/rules/sides-drawn.ts';
import { driverSide } from '../../pattern/words.ts';
import { drawFill } from '../svg/fills.ts';
import type { FittedPart } from '../facts/fitting-words.ts';
import { fittedParts } from '../facts/fitting-words.ts';
import { customerRows, noteLines } from '../facts/order-words.ts';
import { drawStroke } from './edge-strokes.ts';
import { centreline, drawDriver } from './hands/hand-panel.ts';
import { placesIn } from '../svg/label.ts';
import type { OrderFacts } from '../facts/run-facts.ts';
import { arrow, drawCross, escapeXml, mm, pathData, ringed, svgPage } from '../svg/svg.ts';
import type { LengthWords } from '../../base/wording.ts';
import { cutShort, shownNames } from '../../base/wording.ts';
import { wrapped } from '../svg/wrap.ts';

/** Widths of the page and of the plan, mm on paper. */
const page = { width: 190, plan: 165 };
/** Height of the type, mm: 8 points. */
const type = 2.9;
const head = 24;

/** The plan of a vehicle with the parts of an order in their places, and the words for each part. */
export interface FittingPlan {
  readonly parts: readonly FittedPart[];
  readonly svg: string;
  /** Height of the plan, mm on paper. */
  readonly height: number;
  /** What it does not show as it is, in a sentence. null: it shows all pieces on their sides. */
  readonly caution: string | null;
}

/** The plan of an order. It is drawn once for both papers that show it. */
export function fittingPlan(facts: OrderFacts, lengths: LengthWords): FittingPlan {
  const parts = fittedParts(facts, lengths);
  return { parts, ...drawPlan(facts, parts), caution: planCaution(facts) };
}

/**
 * The plan, and below it how each part goes in: a whole paper in one picture. Its unit is mm on paper.
 */
export function fittingPicture(facts: OrderFacts, plan: FittingPlan): string {
  const { order, set } = facts;
  const own = fittingLines(facts, plan);
  const top = 14 + own.length * 1.4 * type;
  const key = drawKey(plan.parts, top + plan.height + 4);
  const height = top + plan.height + 4 + key.height;
  const words = `Order ${order.order}, ${order.hand}: driver on the ${driverSide(order.hand)}. Left and right as seen sitting in the vehicle.`;
  return framed(height, `Fitting: ${set.content.title}, order ${order.order}`, [
    `<text y="5.5" font-size="5.6" font-weight="bold">${escapeXml(cutShort(`Fitting: ${set.content.title}`, 58))}</text>`,
    `<text y="11" font-size="3.4">${escapeXml(words)}</text>`,
    ...own.map((line, i) => `<text y="${mm(11 + (i + 1) * 1.4 * type)}">${escapeXml(line)}</text>`),
    `<g transform="translate(0 ${top})">${plan.svg}</g>`,
    key.svg,
  ]);
}

/** What the order is of, what the customer is told, and what the plan does not show, in lines as wide as the page. */
function fittingLines(facts: OrderFacts, { caution }: FittingPlan): string[] {
  const note = facts.order.customerNote;
  const rows = customerRows(facts).map(([name, value]) => `${name}: ${value}.`);
  return [
    ...(rows.length === 0 ? [] : [rows.join(' ')]),
    ...(note === undefined ? [] : noteLines(note)),
    ...(caution === null ? [] : [caution]),
  ].flatMap((text) => wrapped(text, page.width / (0.92 * type)));
}

function planCaution({ set }: OrderFacts): string | null {
  const strays = strayPieces(set);
  if (strays.length === 0) return null;
  const names = shownNames(strays.map(({ name }) => name));
  return `The plan shows the pieces as the pattern is drawn, not where they lie in the vehicle: go by the side in each name (${names}).`;
}

/** The plan by itself, for a sheet that says the rest in a table. */
export function planPicture({ svg, height }: FittingPlan): string {
  return framed(height, 'Plan of the vehicle', [svg]);
}

function framed(height: number, title: string, content: readonly string[]): string {
  return svgPage({ width: page.width, height, type }, title, [
    `<rect width="${page.width}" height="${mm(height)}" fill="#ffffff"/>`,
    ...content,
  ]);
}

/**
 * Draws the plan, with the front at the top and the vehicle's left on the left. What the order does not
 * want of its set is drawn faint, so that the rest is seen where it goes.
 */
function drawPlan(
  { order, parts: all, others }: OrderFacts,
  fitted: readonly FittedPart[],
): { svg: string; height: number } {
  const parts = fitted.map(({ part }) => part);
  const faint = others.filter(({ kind }) => kind === 'piece').map(({ net }) => net);
  const seen = [...parts.map(({ net }) => net), ...faint];
  const box = seen.map(boxOfPath).reduce(unionBox, emptyBox);
  const onPage = planOnPage(box);
  const bottom = head + onPage.a * heightOf(box) + 4;
  const middle = page.width / 2;
  const place = (path: Path): Path => transformPath(onPage, path);
  // Large parts are drawn first, because small ones lie on them.
  const stacked = parts.toSorted((a, b) => areaOf(b.net) - areaOf(a.net));
  const pads = all.filter(({ kind }) => kind === 'pad').map(({ net }) => place(net));
  const side = driverSide(order.hand);
  const svg = [
    `<rect x="0.15" y="0.15" width="${page.width - 0.3}" height="${mm(bottom)}" fill="none" stroke="#1b1b1b" stroke-width="0.3"/>`,
    `<path d="M${middle} 15V${mm(bottom - 2)}" ${centreline}/>`,
    arrow({ x: middle, y: 9 }, -90, 11, 0.8),
    `<text x="${middle + 3}" y="10" font-weight="bold" font-size="3.6">FRONT</text>`,
    ...(['left', 'right'] as const).map(
      (name) =>
        `<text x="${name === 'left' ? 4 : page.width - 4}" y="10" font-weight="bold" font-size="5" text-anchor="${name === 'left' ? 'start' : 'end'}">${name.toUpperCase()}</text>`,
    ),
    drawDriver(middle + (side === 'left' ? -45 : 45), 9),
    ...(faint.length === 0 ? [] : [drawStroke(faint.map(place), 0.2, '0.8 0.8')]),
    ...stacked.map((part) => drawPart(part, place)),
    ...pads.map(
      (path) => drawFill({ tint: '#d9d3c5', strokes: [-45, 45] }, [path], 1.1) + outline(path, 0.4),
    ),
    ...drawNumbers(fitted, stacked, pads, place),
  ];
  return { svg: svg.join('\n'), height: bottom + 0.3 };
}

function planOnPage(box: Box): Transform {
  const halfWidth = Math.max(Math.abs(box.minX), Math.abs(box.maxX));
  const scale = Math.min((page.width / 2 - 4) / halfWidth, (page.plan - head - 4) / heightOf(box));
  return { a: scale, b: 0, c: 0, d: -scale, e: page.width / 2, f: head + scale * box.maxY };
}

function drawPart(part: Part, place: (path: Path) => Path): string {
  const [net, ...holes] = [part.net, ...part.inner.map(({ path }) => path)].map(place);
  const points = part.marks.filter(({ path }) => path.vertices.length === 1);
  return [
    `<g><title>${escapeXml(part.name)}</title>`,
    drawFill({ tint: '#eef0f1', strokes: [] }, [net!, ...holes], 2),
    holes.length === 0
      ? ''
      : `<path d="${holes.map(pathData).join('')}" fill="none" stroke="#4a5058" stroke-width="0.2"/>`,
    ...points.map(({ path }) =>
      drawCross(place(path).vertices[0]!, 1.2, 'stroke="#4a5058" stroke-width="0.2"'),
    ),
    outline(net!, 0.4),
    '</g>',
  ].join('');
}

function outline(path: Path, weight: number): string {
  return `<path d="${pathData(path)}" fill="none" stroke="#1b1b1b" stroke-width="${weight}" stroke-linejoin="round"/>`;
}

const ring = 2.6;
const ringLook = { radius: ring, weight: 0.25, type };

/**
 * Draws the number of each part in a ring, at a place where its part is seen, clear of the other rings.
 */
function drawNumbers(
  fitted: readonly FittedPart[],
  stacked: readonly Part[],
  pads: readonly Path[],
  place: (path: Path) => Path,
): string[] {
  const taken: Point[] = [];
  return fitted.map(({ part, number }) => {
    const above = stacked.slice(stacked.indexOf(part) + 1).map(({ net }) => place(net));
    const holes = part.inner.map(({ path }) => place(path));
    const at = numberPlace(place(part.net), [...above, ...holes, ...pads], taken);
    taken.push(at);
    return ringed(number, at, ringLook);
  });
}

function numberPlace(path: Path, obstacles: readonly Path[], taken: readonly Point[]): Point {
  const isFree = (point: Point): boolean =>
    taken.every((other) => Math.hypot(other.x - point.x, other.y - point.y) > 2 * ring);
  const places = [
    ...placesIn(path, obstacles),
    ...placesIn(path, []),
    roomiestPoint(path, []).point,
  ];
  return places.find(isFree) ?? places[0]!;
}

/** The words for each part, in two columns that are read one after the other. */
function drawKey(parts: readonly FittedPart[], top: number): { svg: string; height: number } {
  const column = page.width / 2 - 3;
  const line = 1.28 * type;
  const entries = parts.map(({ number, part, words }) => ({
    number,
    name: part.name,
    lines: wrapped(words.join(' '), (column - 9) / (0.92 * type)),
  }));
  const heights = entries.map(({ lines }) => (lines.length + 1) * line + 1.2);
  const half = heights.reduce((a, b) => a + b, 0) / 2;
  let [x, y, most] = [0, 0, 0];
  const inset = ring + 0.2;
  const drawn = entries.map(({ number, name, lines }, i) => {
    if (x === 0 && y > 0 && y + heights[i]! / 2 > half) [x, y] = [page.width / 2 + 3, 0];
    const at = top + y;
    y += heights[i]!;
    most = Math.max(most, y);
    return [
      ringed(number, { x: x + inset, y: at + 2.4 }, ringLook),
      `<text x="${mm(x + 8)}" y="${mm(at + line)}" font-weight="bold">${escapeXml(name)}</text>`,
      ...lines.map(
        (text, k) =>
          `<text x="${mm(x + 8)}" y="${mm(at + (k + 2) * line)}">${escapeXml(text)}</text>`,
      ),
    ].join('');
  });
  return { svg: drawn.join('\n'), height: most + 2 };
}
