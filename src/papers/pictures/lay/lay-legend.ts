import type { Point } from '../../../geometry/paths/point.ts';
import type { Part } from '../../../handing/part.ts';
import type { Cloth } from '../../../pattern/shop/cloth.ts';
import { clothSample } from '../../../pattern/shop/cloth.ts';
import { drawFill, setFill } from '../../svg/fills.ts';
import type { Entry } from '../../svg/legend.ts';
import { drawLegend, legendHeight } from '../../svg/legend.ts';
import { drawCross, mm, pathData, svgPage } from '../../svg/svg.ts';
import { drawSwatch } from '../../svg/swatch.ts';
import { setAndOrder } from './part-picture.ts';
import { oblong } from './roll-picture.ts';

/** What a legend explains of the rows that it stands for. */
export interface Shown {
  /** All parts of the lay: they say how each set is filled. */
  readonly parts: readonly Part[];
  /** The parts that the rows show. */
  readonly drawn: readonly Part[];
  readonly cloth?: Cloth;
  readonly hasOthers: boolean;
  readonly hasMarks: boolean;
}

/** What the fills and the marks in a picture of a lay mean. */
export function legendEntries(
  { parts, drawn, cloth, hasOthers, hasMarks }: Shown,
  type: number,
): Entry[] {
  const sample = cloth === undefined ? undefined : clothSample(cloth);
  return [
    ...(sample === undefined ? [] : [clothEntry(sample, cloth!.colour!, type)]),
    ...setEntries(parts, drawn, type),
    ...(hasOthers ? [othersEntry(type)] : []),
    ...(hasMarks ? [markEntry(type)] : []),
  ];
}

/** The legend of a lay as a picture of its own, `width` mm wide on paper, for rows that are drawn without. */
export function legendPicture(shown: Shown, width: number, type: number): string {
  const entries = legendEntries(shown, type);
  const height = legendHeight(entries, width, type) + 0.3 * type;
  return svgPage({ width, height, type }, 'What the pictures show', [
    drawLegend(entries, 0, 0, width, type),
  ]);
}

/** The first part of each set, in the order of the sets. */
export function firstOfSets(parts: readonly Part[]): Part[] {
  const first = new Map<string, Part>();
  for (const part of parts) {
    if (!first.has(setAndOrder(part))) first.set(setAndOrder(part), part);
  }
  return [...first.values()];
}

function setEntries(parts: readonly Part[], drawn: readonly Part[], type: number): Entry[] {
  const shown = new Set(drawn.map(setAndOrder));
  return firstOfSets(parts).flatMap((set, i) =>
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

function clothEntry(sample: string, colour: string, type: number): Entry {
  const size = { width: 2 * type, height: 1.2 * type, line: type / 20 };
  return { mark: drawSwatch(sample, { x: 0, y: -type }, size), words: `cloth: ${colour}` };
}

function markEntry(type: number): Entry {
  return {
    mark: drawFeedMark({ x: type, y: -0.4 * type }, type, type),
    words: 'mark for the feed',
  };
}

function othersEntry(type: number): Entry {
  return {
    mark: drawOther(pathData(oblong(0, -type, 2 * type, 0.2 * type)), type),
    words: 'cut in another bite',
  };
}

/** Draws a part that is cut in another bite. */
export function drawOther(d: string, type: number): string {
  return `<path d="${d}" fill="#ffffff" stroke="#8b877f" stroke-width="${mm(type / 16)}" stroke-dasharray="${mm(type / 2)} ${mm(type / 3)}"/>`;
}

/** Draws a registration mark. `size`: its width. */
export function drawFeedMark(at: Point, size: number, type: number): string {
  return drawCross(at, size, `stroke="#7a2e1d" stroke-width="${mm(type / 7)}"`);
}
