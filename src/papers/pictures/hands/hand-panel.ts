import { centreOf, heightOf, widthOf } from '../../../geometry/paths/box.ts';
import { boxOfPath } from '../../../geometry/paths/path.ts';
import type { Path } from '../../../geometry/paths/path.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import type { Fill } from '../../svg/fills.ts';
import { drawFill } from '../../svg/fills.ts';
import { oblong } from '../lay/roll-picture.ts';
import { edgeKinds } from '../../../pattern/words.ts';
import { drawEdgeStroke } from '../edge-strokes.ts';
import type { Marked, ShownHand, ShownPiece } from './shown-hand.ts';
import { isHole, isTrace } from './shown-hand.ts';
import { drawCross, escapeXml, mm, pathData } from '../../svg/svg.ts';

/** How a thing is drawn. Its hatch and the weight of its line tell it apart in black and white. */
export interface Style {
  readonly fill: Fill;
  readonly ink: string;
  /** Width of the line, mm on the page. */
  readonly weight: number;
  /** Distance between the strokes of the hatch, mm. */
  readonly spacing: number;
}

export const stayed: Style = {
  fill: { tint: '#e9eef3', strokes: [] },
  ink: '#4a5058',
  weight: 0.3,
  spacing: 2.2,
};
export const moved: Style = {
  fill: { tint: '#fde3c8', strokes: [-45], ink: '#c2763a' },
  ink: '#8a3408',
  weight: 0.6,
  spacing: 2.2,
};
/** The style of a feature that has moved by itself. */
export const marked: Style = {
  fill: { tint: '#f5a35c', strokes: [-45, 45], ink: '#6b2604' },
  ink: '#6b2604',
  weight: 0.6,
  spacing: 1.2,
};

export const centreline =
  'fill="none" stroke="#1b1b1b" stroke-width="0.25" stroke-dasharray="6 1.5 1 1.5"';

/** The dashes for what exists for one hand only. */
export const dashes = 'stroke-dasharray="1.6 1"';

/** A feature smaller than this (mm) gets a ring, because it would be missed otherwise. */
const easilyMissed = 5;
const ringRadius = 2.6;
/** Size of the cross that stands for a point, mm. */
const crossSize = 1.2;

/**
 * Draws the pieces of one hand, small ones on top of large ones, and over them the features that have
 * moved by themselves.
 */
export function drawHand({ pieces, marked: features }: ShownHand): string {
  return [...pieces.map(drawPiece), ...features.map(drawMarked)].join('\n');
}

/** Draws a piece so transparent that what lies below can be seen. */
function drawPiece(shown: ShownPiece): string {
  const { name, outline, hasMoved, isAlone, holes, lines } = shown;
  // What is there for one hand only is broken, which the strokes of edges are too: it has those of its outline.
  const edges = isAlone ? [] : shown.edges;
  const { fill, ink, weight, spacing } = hasMoved ? moved : stayed;
  const thin = `fill="none" stroke="${ink}" stroke-width="0.2"`;
  const thick = `fill="none" stroke="${ink}" stroke-width="${mm(weight)}" stroke-linejoin="round"`;
  const courses = [...holes, ...lines].filter((path) => !isPoint(path)).map(pathData);
  // A full line below broken ones would close their gaps.
  const contour = edges.length === 0 ? thick : 'fill="none" stroke="none"';
  return [
    `<g><title>${escapeXml(name)}</title>`,
    `<g opacity="0.85">${drawFill(fill, [outline, ...holes], spacing)}</g>`,
    courses.length === 0 ? '' : `<path d="${courses.join('')}" ${thin}/>`,
    ...lines.filter(isPoint).map((path) => drawPoint(path, ink)),
    `<path d="${pathData(outline)}" ${contour}${isAlone ? ` ${dashes}` : ''}/></g>`,
    ...edgeKinds.toReversed().map((kind) =>
      drawEdgeStroke(
        edges.filter((edge) => edge.kind === kind).map(({ path }) => path),
        kind,
      ),
    ),
  ].join('');
}

function isPoint({ vertices }: Path): boolean {
  return vertices.length === 1;
}

function drawPoint(path: Path, ink: string): string {
  return drawCross(path.vertices[0]!, crossSize, `stroke="${ink}" stroke-width="0.2"`);
}

/** Draws a feature that must be noticed, with a ring if it is small. */
function drawMarked({ feature, path, isAlone }: Marked): string {
  const { fill, ink, weight, spacing } = marked;
  const width = isTrace(feature) ? 2 * weight : weight;
  const line = `fill="none" stroke="${ink}" stroke-width="${mm(width)}"${isAlone ? ` ${dashes}` : ''}`;
  const isFilled = isHole(feature) || feature.role === 'PAD';
  const ring = ringOf(path);
  return [
    isFilled ? drawFill(fill, [path], spacing) : '',
    isPoint(path) ? drawPoint(path, ink) : `<path d="${pathData(path)}" ${line}/>`,
    ring === null
      ? ''
      : `<circle cx="${mm(ring.x)}" cy="${mm(ring.y)}" r="${mm(ringRadius)}" ${line}/>`,
  ].join('');
}

/** The middle of the ring that a feature needs; null if it is large enough. */
function ringOf(path: Path): Point | null {
  const box = boxOfPath(path);
  return Math.max(widthOf(box), heightOf(box)) < easilyMissed ? centreOf(box) : null;
}

/** What a name must not cover: the box of a feature, with its ring if it has one. */
export function roomOf(path: Path, ringed: boolean): Path {
  const box = boxOfPath(path);
  const { x, y } = centreOf(box);
  const least = ringed && ringOf(path) !== null ? ringRadius : crossSize / 2;
  const [width, height] = [widthOf(box), heightOf(box)].map((size) => Math.max(least, size / 2));
  return oblong(x - width!, y - height!, x + width!, y + height!);
}

/** Draws a steering wheel where the driver sits. */
export function drawDriver(x: number, y: number): string {
  const [cx, cy] = [mm(x), mm(y)];
  const ring = `fill="none" stroke="#1b1b1b" stroke-width="1.2"`;
  return [
    `<circle cx="${cx}" cy="${cy}" r="5.5" ${ring}/><circle cx="${cx}" cy="${cy}" r="1.4" fill="#1b1b1b"/>`,
    `<path d="M${mm(x - 5.5)} ${cy}H${mm(x + 5.5)}M${cx} ${cy}V${mm(y + 5.5)}" ${ring}/>`,
    `<text x="${mm(x + 8)}" y="${mm(y + 1.3)}" font-weight="bold">driver</text>`,
  ].join('');
}
