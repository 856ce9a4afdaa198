import { areaOf } from '../../../geometry/paths/area.ts';
import type { Box } from '../../../geometry/paths/box.ts';
import {
  boxOfPoints,
  boxesOverlap,
  emptyBox,
  growBox,
  heightOf,
  unionBox,
  widthOf,
} from '../../../geometry/paths/box.ts';
import { boxOfPath } from '../../../geometry/paths/path.ts';
import type { Path } from '../../../geometry/paths/path.ts';
import type { Transform } from '../../../geometry/paths/transform.ts';
import { transformPath, transformPoint } from '../../../geometry/paths/transform.ts';
import type { Edge, Part } from '../../../handing/part.ts';
import type { EdgeKind } from '../../../pattern/words.ts';
import { driverSide, edgeKinds } from '../../../pattern/words.ts';
import type { FittingGuide } from '../../facts/fitting-guide.ts';
import type { OrderFacts } from '../../facts/run-facts.ts';
import { drawFill } from '../../svg/fills.ts';
import type { Entry } from '../../svg/legend.ts';
import { drawLegend, legendHeight } from '../../svg/legend.ts';
import { arrow, drawCross, escapeXml, mm, rect, ringed, svgPage } from '../../svg/svg.ts';
import { drawEdgeStroke, drawStroke, edgeEntries } from '../edge-strokes.ts';
import { centreline, drawDriver } from '../hands/hand-panel.ts';
import type { PlacedArrow, PlacedRing, PlannedPart, PlanRoom } from './plan-marks.ts';
import { planMarks, planRing } from './plan-marks.ts';

/** Width of the plan and height of its type (8 points), mm on paper. */
export const planWidth = 190;
export const planType = 2.9;
/** Space for the words at the front, and between frame and vehicle, mm. */
const head = 17;
const border = 4;
/** Between the strokes of a heel pad, mm. */
const padHatch = 1.1;

/** The plan of a vehicle with the parts of an order in their places. */
export interface FittingPlan {
  readonly svg: string;
  /** Height, mm on paper. */
  readonly height: number;
}

/**
 * The plan of an order, `height` mm high at most, with the front at the top and the vehicle's left on the left. What
 * the order does not want of its set is dotted, so that the rest is seen where it goes.
 */
export function fittingPlan(facts: OrderFacts, guide: FittingGuide, height: number): FittingPlan {
  const { order, parts, others } = facts;
  const carpets = parts.filter(({ kind }) => kind === 'piece');
  const faint = others.filter(({ kind }) => kind === 'piece').map(({ net }) => net);
  const seen = [...carpets.map(({ net }) => net), ...faint].map(boxOfPath);
  const key = keyEntries(facts, guide);
  const { onPage, bottom, keyBox, foot } = arranged(seen, key, height);
  const place = (path: Path): Path => transformPath(onPage, path);
  // Large parts are drawn first, because small ones lie on them.
  const stacked = carpets.toSorted((a, b) => areaOf(b.net) - areaOf(a.net));
  const pads = parts.filter(({ kind }) => kind === 'pad').map(({ net }) => place(net));
  const frame = { minX: 1, minY: head, maxX: planWidth - 1, maxY: bottom - 1 };
  const marks = marksOf(facts, guide, stacked, pads, { frame, keyBox }, onPage);
  const svg = [
    rect(0.15, 0.15, planWidth - 0.3, foot, 'fill="none" stroke="#1b1b1b" stroke-width="0.3"'),
    ...drawHead(driverSide(order.hand), bottom),
    ...(faint.length === 0 ? [] : [drawStroke(faint.map(place), 0.2, '0.8 0.8')]),
    ...stacked.map((part) => drawPart(part, finishedEdges(part, facts), place)),
    ...pads.map((path) => drawFill(padFill, [path], padHatch) + drawStroke([path], 0.4)),
    ...guide.jobs.flatMap(({ places }) => places.map(({ mark }) => drawSite(place(mark.path)))),
    ...marks.arrows.map(drawArrow),
    ...marks.rings.map(drawRing),
    drawLegend(key, keyBox.minX, keyBox.minY, widthOf(keyBox), planType),
  ];
  return { svg: svg.join('\n'), height: foot + 0.3 };
}

/** How a plan stands on its page, mm. */
interface Arranged {
  readonly onPage: Transform;
  /** Where the vehicle ends. */
  readonly bottom: number;
  readonly keyBox: Box;
  /** Where the frame ends. */
  readonly foot: number;
}

/** Width of a key that stands in a corner of the plan, in one column, mm. */
const keyWidth = 48;

/** The vehicle as large as the room allows, and its key in a corner that is free, or else below it. */
function arranged(seen: readonly Box[], key: readonly Entry[], height: number): Arranged {
  const box = seen.reduce(unionBox, emptyBox);
  const whole = planOnPage(box, height - head - border - 0.3);
  const bottom = head + whole.a * heightOf(box) + border;
  const corner = freeCorner(
    seen.map((one) => boxOnPage(one, whole)),
    legendHeight(key, keyWidth, planType) + 1,
    bottom,
  );
  if (corner !== null) return { onPage: whole, bottom, keyBox: corner, foot: bottom };
  const width = planWidth - 2 * border;
  const strip = legendHeight(key, width, planType) + 2;
  const smaller = planOnPage(box, height - head - border - 0.3 - strip);
  const end = head + smaller.a * heightOf(box) + border;
  const keyBox = { minX: border, minY: end, maxX: border + width, maxY: end + strip };
  return { onPage: smaller, bottom: end, keyBox, foot: end + strip };
}

/** Space that a key keeps to what is drawn, mm: numbers with their leader lines stand there. */
const apart = 3;

/** A place for the key at one of the lower or upper corners where nothing is drawn. */
function freeCorner(boxes: readonly Box[], height: number, bottom: number): Box | null {
  const corners = [bottom - border - height, head + 1].flatMap((minY) =>
    [border, planWidth - border - keyWidth].map((minX) => ({
      minX,
      minY,
      maxX: minX + keyWidth,
      maxY: minY + height,
    })),
  );
  const isFree = (corner: Box): boolean =>
    corner.minY > head && boxes.every((box) => !boxesOverlap(box, growBox(corner, apart)));
  return corners.find(isFree) ?? null;
}

function boxOnPage({ minX, minY, maxX, maxY }: Box, onPage: Transform): Box {
  return boxOfPoints([
    transformPoint(onPage, { x: minX, y: minY }),
    transformPoint(onPage, { x: maxX, y: maxY }),
  ]);
}

/** The plan by itself, for a sheet that says the rest in tables. */
export function planPicture({ svg, height }: FittingPlan): string {
  return onWhite(height, 'Plan of the vehicle', [svg]);
}

/** A picture as wide as the plan, on white. */
export function onWhite(height: number, title: string, content: readonly string[]): string {
  return svgPage({ width: planWidth, height, type: planType }, title, [
    `<rect width="${planWidth}" height="${mm(height)}" fill="#ffffff"/>`,
    ...content,
  ]);
}

/** Places by the middle of the vehicle, as large as the room allows. */
function planOnPage(box: Box, room: number): Transform {
  const halfWidth = Math.max(Math.abs(box.minX), Math.abs(box.maxX));
  const scale = Math.min((planWidth / 2 - border) / halfWidth, room / heightOf(box));
  return { a: scale, b: 0, c: 0, d: -scale, e: planWidth / 2, f: head + scale * box.maxY };
}

function drawHead(side: 'left' | 'right', bottom: number): string[] {
  const middle = planWidth / 2;
  const words = (at: number, anchor: string, text: string): string =>
    `<text x="${at}" y="10" font-weight="bold" font-size="5" text-anchor="${anchor}">${text}</text>`;
  return [
    `<path d="M${middle} 15V${mm(bottom - 2)}" ${centreline}/>`,
    arrow({ x: middle, y: 8.5 }, -90, 11, 0.8),
    `<text x="${middle + 3}" y="10" font-weight="bold" font-size="3.6">FRONT</text>`,
    words(border, 'start', 'LEFT'),
    words(planWidth - border, 'end', 'RIGHT'),
    drawDriver(middle + (side === 'left' ? -45 : 45), 9),
  ];
}

const padFill = { tint: '#d9d3c5', strokes: [-45, 45] };

/** The edges of a part as the customer gets it: those that are wrapped round its board are turned under. */
function finishedEdges({ name, edges }: Part, { bench }: OrderFacts): Edge[] {
  const wrapped = bench.get(name)?.wrap?.kind;
  return edges.map((edge) => (edge.kind === wrapped ? { ...edge, kind: 'turned' } : edge));
}

/** A part with each of its edges in the stroke of its kind. */
function drawPart(
  { name, net, inner }: Part,
  edges: readonly Edge[],
  place: (path: Path) => Path,
): string {
  const holes = inner.map(({ path }) => place(path));
  return [
    `<g><title>${escapeXml(name)}</title>`,
    drawFill({ tint: '#f3f4f4', strokes: [] }, [place(net), ...holes], 2),
    drawStroke(holes, 0.2),
    ...edgeKinds.toReversed().map((kind) =>
      drawEdgeStroke(
        edges.filter((edge) => edge.kind === kind).map(({ path }) => place(path)),
        kind,
      ),
    ),
    '</g>',
  ].join('');
}

/** A place where something is done in the vehicle. */
function drawSite(path: Path): string {
  const [only, ...more] = path.vertices;
  return only !== undefined && more.length === 0
    ? drawCross(only, 1.2, 'stroke="#1b1b1b" stroke-width="0.3"')
    : drawStroke([path], 0.3);
}

function drawArrow({ at, deg, length, weight }: PlacedArrow): string {
  return arrow(at, deg, length, weight);
}

function drawRing({ words, at, to, isUnder, isLetter }: PlacedRing): string {
  const look = { radius: planRing, weight: isLetter === true ? 0.15 : 0.4, type: planType };
  const line =
    to === undefined
      ? ''
      : `<path d="M${mm(at.x)} ${mm(at.y)}L${mm(to.x)} ${mm(to.y)}" fill="none" stroke="#1b1b1b" stroke-width="0.25"/>`;
  const dot =
    to === undefined || isLetter === true
      ? ''
      : `<circle cx="${mm(to.x)}" cy="${mm(to.y)}" r="0.6" fill="#1b1b1b"/>`;
  return `${line}${dot}${isUnder === true ? underRing(words, at) : ringed(words, at, look)}`;
}

/** A broken ring: what it numbers lies under what is seen there. */
function underRing(words: string, { x, y }: PlacedRing['at']): string {
  return (
    `<circle cx="${mm(x)}" cy="${mm(y)}" r="${planRing}" fill="#ffffff" stroke="#1b1b1b" stroke-width="0.4" stroke-dasharray="1.2 0.8"/>` +
    `<text x="${mm(x)}" y="${mm(y + 0.36 * planType)}" text-anchor="middle" font-weight="bold">${words}</text>`
  );
}

/** Where numbers, letters and arrows stand. */
function marksOf(
  { bench }: OrderFacts,
  { steps, jobs }: FittingGuide,
  stacked: readonly Part[],
  pads: readonly Path[],
  room: PlanRoom,
  onPage: Transform,
): ReturnType<typeof planMarks> {
  const place = (path: Path): Path => transformPath(onPage, path);
  const nets = new Map(stacked.map((part) => [part, place(part.net)]));
  const sites = jobs.flatMap(({ places }) => places);
  const planned = stacked.map((part, i): PlannedPart => {
    const net = nets.get(part)!;
    const box = boxOfPath(net);
    const over = [...stacked.slice(i + 1).map((other) => nets.get(other)!), ...pads];
    const holes = part.inner.map(({ path }) => place(path));
    return {
      net,
      hidden: [...over, ...holes].filter((path) => boxesOverlap(boxOfPath(path), box)),
      numbers: steps
        .flatMap(({ number, parts }) =>
          parts
            .filter(({ name }) => name === part.name || bench.get(name)!.carpet === part.name)
            .slice(0, 1)
            .map(() => ({ number, isUnder: !parts.includes(part) })),
        )
        .toSorted((a, b) => Number(a.isUnder) - Number(b.isUnder)),
      // The page's y runs down.
      pileDeg: part.pileDeg === null ? null : -part.pileDeg,
    };
  });
  const details = [
    ...stacked.flatMap(({ inner }) => inner.map(({ path }) => place(path))),
    ...sites.map(({ mark }) => place(mark.path)),
    ...pads,
  ];
  return planMarks(
    // Small parts have little room: they are served first.
    planned.toReversed(),
    sites.map(({ letter, at, mark }) => ({
      letter,
      at: transformPoint(onPage, at),
      radius: mark.path.closed ? radiusOf(place(mark.path)) : 0.3,
    })),
    [...nets.values(), ...details],
    details,
    room,
  );
}

/** Half the larger side of what is drawn. */
function radiusOf(path: Path): number {
  const box = boxOfPath(path);
  return Math.max(widthOf(box), heightOf(box)) / 2;
}

const edgeWords: Readonly<Record<EdgeKind, string>> = {
  bound: 'finished: stays in sight',
  seam: 'sewn to the part beside it',
  tuck: 'tucked under something',
  turned: 'turned under, finished',
  raw: 'unfinished: must be covered',
};

/** The key to what the plan shows; what it does not show has no entry. */
function keyEntries(facts: OrderFacts, { steps, jobs }: FittingGuide): Entry[] {
  const { parts, others } = facts;
  const carpets = parts.filter(({ kind }) => kind === 'piece');
  const shown = new Set(
    carpets.flatMap((part) => finishedEdges(part, facts).map(({ kind }) => kind)),
  );
  const edges = edgeEntries(edgeWords).filter((_, i) => shown.has(edgeKinds[i]!));
  const at = { x: 3, y: -1 };
  const ring = (words: string, weight: number): string =>
    ringed(words, at, { radius: 2, weight, type: planType });
  const isUnder = steps.some((step) =>
    step.parts.every(({ kind }) => kind === 'underlay' || kind === 'board'),
  );
  return [
    ...edges,
    { mark: arrow(at, 0, 6, 0.35), words: 'the pile leans this way' },
    { mark: ring('1', 0.4), words: 'step; sewn parts share it' },
    ...(isUnder
      ? [
          {
            mark: `<g transform="translate(3 -1)">${underRing('2', { x: 0, y: 0 })}</g>`,
            words: 'step of what lies under it',
          },
        ]
      : []),
    ...(jobs.length > 0 ? [{ mark: ring('a', 0.15), words: 'to do in the vehicle' }] : []),
    ...(parts.some(({ kind }) => kind === 'pad')
      ? [
          {
            mark: drawFill(padFill, [swatchBox], padHatch) + drawStroke([swatchBox], 0.4),
            words: 'heel pad',
          },
        ]
      : []),
    ...(others.some(({ kind }) => kind === 'piece')
      ? [{ mark: drawStroke([swatchBox], 0.2, '0.8 0.8'), words: 'not in this order' }]
      : []),
  ];
}

const swatchBox: Path = {
  closed: true,
  vertices: [
    [0, -2.4],
    [6, -2.4],
    [6, 0.3],
    [0, 0.3],
  ].map(([x, y]) => ({ x: x!, y: y!, bulge: 0 })),
};
