import type { Point } from '../../../geometry/paths/point.ts';

/** Something that is pointed at: a thing, or a stretch of the outline. */
export type Pointed = { readonly kind: 'things' | 'edges'; readonly index: number };

/** How far from a line it is still pointed at, pixels: a fingertip hides more. */
const reach = 9;

/** So near to the line of an edge (pixels) its line is meant, and not letters that lie over it. */
const onEdge = 4;

/**
 * What lies under a point of the window: small things before long ones, and these before the edge. A text is meant
 * where its letters are; elsewhere in its box only if nothing else is within reach.
 */
export function underPointer(box: HTMLElement, { x, y }: Point): Pointed | null {
  const { left, top } = box.getBoundingClientRect();
  const at = { x: left + x, y: top + y };
  const here = shownAt(box, at);
  const first = here.find((element) => !isText(element) || isOnLetters(element, at));
  const meant =
    first !== undefined && isText(first) ? (edgeLineNear(box, at) ?? first) : (first ?? null);
  const lines = (): Element[] =>
    around(at, reach).flatMap((one) => shownAt(box, one).filter(isLine));
  const found = meant ?? lines()[0] ?? here[0];
  return found === undefined ? null : pointedOf(found);
}

/** All that can be pointed at under a point of the window, what lies on top first. */
function shownAt(box: HTMLElement, { x, y }: Point): Element[] {
  return document
    .elementsFromPoint(x, y)
    .filter((element) => box.contains(element) && markedOf(element) !== null);
}

function markedOf(element: Element): SVGElement | null {
  return element.closest<SVGElement>('[data-thing], [data-edge]');
}

function pointedOf(element: Element): Pointed {
  const { thing, edge } = markedOf(element)!.dataset;
  return thing === undefined
    ? { kind: 'edges', index: Number(edge) }
    : { kind: 'things', index: Number(thing) };
}

function isText(element: Element): element is SVGTextElement {
  return element instanceof SVGTextElement;
}

function isLine(element: Element): boolean {
  return !isText(element);
}

/** The part of the height of a text's box in which its letters lie: none has an ascender and a descender in all. */
const letters = { from: 0.15, to: 0.85 };

function isOnLetters(text: SVGTextElement, { x, y }: Point): boolean {
  const box = text.getBBox();
  const on = new DOMPoint(x, y).matrixTransform(text.getScreenCTM()!.inverse());
  const share = (on.y - box.y) / box.height;
  return share >= letters.from && share <= letters.to;
}

function edgeLineNear(box: HTMLElement, at: Point): Element | null {
  const near = [at, ...around(at, onEdge)].flatMap((one) => shownAt(box, one));
  return near.find((element) => element.matches('.edge-line')) ?? null;
}

/** Eight points round a point, by so many pixels. */
function around({ x, y }: Point, by: number): Point[] {
  const steps = [0, -by, by];
  return steps
    .flatMap((dx) => steps.map((dy) => ({ x: x + dx, y: y + dy })))
    .filter((one) => one.x !== x || one.y !== y);
}

/** The stretch under a point of the window, or null. */
export function edgeAt(box: HTMLElement, at: Point): number | null {
  const found = underPointer(box, at);
  return found?.kind === 'edges' ? found.index : null;
}

/** The stretches along the way of a pointer, which may be fast. */
export function edgesBetween(box: HTMLElement, from: Point, to: Point): number[] {
  const count = Math.max(1, Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / reach));
  return Array.from({ length: count }, (_, i) => {
    const share = (i + 1) / count;
    return edgeAt(box, {
      x: from.x + (to.x - from.x) * share,
      y: from.y + (to.y - from.y) * share,
    });
  }).filter((edge) => edge !== null);
}
