import type { Point } from '../../../geometry/paths/point.ts';

/**
 * How a window shows what is drawn. On both x runs to the right; y runs up in mm and down on the
 * screen.
 */
export interface View {
  /** How many pixels of the page show a mm. */
  readonly scale: number;
  /** The x of the window’s left edge, mm. */
  readonly left: number;
  /** The y of the window’s upper edge, mm. */
  readonly top: number;
}

/** The size of a window, pixels of the page. */
export interface Size {
  readonly width: number;
  readonly height: number;
}

/** A part of what is drawn: minX, minY, maxX, maxY, mm. */
export type Extent = readonly [number, number, number, number];

/** The numbers a, b, c, d, e and f of x' = a x + c y + e, y' = b x + d y + f. */
export type Matrix = readonly [number, number, number, number, number, number];

/** The largest scale, pixels to a mm. */
const closest = 8;

export function toScreen({ scale, left, top }: View, { x, y }: Point): Point {
  return { x: (x - left) * scale, y: (top - y) * scale };
}

export function toDrawn({ scale, left, top }: View, { x, y }: Point): Point {
  return { x: left + x / scale, y: top - y / scale };
}

/**
 * The matrix from mm to pixels of a canvas that has `ratio` of them to a pixel of the page.
 */
export function viewMatrix({ scale, left, top }: View, ratio: number): Matrix {
  const s = scale * ratio;
  return [s, 0, 0, -s, -left * s, top * s];
}

/** The matrix that does what `first` does and then what `second` does. */
export function matrixProduct(second: Matrix, first: Matrix): Matrix {
  const [a, b, c, d, e, f] = second;
  return [
    a * first[0] + c * first[1],
    b * first[0] + d * first[1],
    a * first[2] + c * first[3],
    b * first[2] + d * first[3],
    a * first[4] + c * first[5] + e,
    b * first[4] + d * first[5] + f,
  ];
}

/**
 * The view that shows all of an extent in the middle of the window, below a strip of `head` pixels.
 */
export function fittedView(
  extent: Extent,
  size: Size,
  margin: number,
  head: number,
  sides = margin,
): View {
  const [minX, minY, maxX, maxY] = extent;
  const width = Math.max(1, size.width - 2 * sides);
  const height = Math.max(1, size.height - head - 2 * margin);
  const scale = Math.min(width / Math.max(1, maxX - minX), height / Math.max(1, maxY - minY));
  return {
    scale,
    left: (minX + maxX) / 2 - size.width / 2 / scale,
    top: (minY + maxY) / 2 + (size.height + head) / 2 / scale,
  };
}

/**
 * The view zoomed by a factor; what is at the point `at` of the window stays there. `least` is the
 * smallest scale.
 */
export function zoomed(view: View, at: Point, factor: number, least: number): View {
  const scale = Math.min(closest, Math.max(least, view.scale * factor));
  const { x, y } = toDrawn(view, at);
  return { scale, left: x - at.x / scale, top: y + at.y / scale };
}

/** The view with the picture moved to the right and down, by pixels. */
export function panned(view: View, by: Point): View {
  return { ...view, left: view.left - by.x / view.scale, top: view.top + by.y / view.scale };
}

/**
 * The view moved so that the window's middle is over the extent: nobody can pan away from it.
 */
export function keptOver(view: View, extent: Extent, size: Size): View {
  const middle = toDrawn(view, { x: size.width / 2, y: size.height / 2 });
  const x = Math.min(extent[2], Math.max(extent[0], middle.x));
  const y = Math.min(extent[3], Math.max(extent[1], middle.y));
  return { ...view, left: view.left + x - middle.x, top: view.top + y - middle.y };
}

/**
 * The view moved by as little as brings an extent into the window, `margin` pixels from its edge.
 */
export function broughtIn(view: View, extent: Extent, size: Size, margin: number): View {
  const [left, right] = [extent[0], extent[2]].map((x) => (x - view.left) * view.scale);
  const [top, bottom] = [extent[3], extent[1]].map((y) => (view.top - y) * view.scale);
  return panned(view, {
    x: shiftInto(left!, right!, margin, size.width - margin),
    y: shiftInto(top!, bottom!, margin, size.height - margin),
  });
}

function shiftInto(from: number, to: number, low: number, high: number): number {
  if (from >= low && to <= high) return 0;
  if (to - from > high - low) return (low + high - from - to) / 2;
  return from < low ? low - from : high - to;
}

/** The extent that is in the window. */
export function seenIn(view: View, size: Size): Extent {
  const { x, y } = toDrawn(view, { x: size.width, y: size.height });
  return [view.left, y, x, view.top];
}

export function meets(a: Extent, b: Extent): boolean {
  return a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
}

export function sameView(a: View, b: View): boolean {
  return a.scale === b.scale && a.left === b.left && a.top === b.top;
}

/**
 * Where a picture that was made for one view lies in the window of another: its corner in pixels, and
 * how many times as large it is.
 */
export function shiftBetween(made: View, now: View): Point & { readonly factor: number } {
  const corner = toScreen(now, { x: made.left, y: made.top });
  return { ...corner, factor: now.scale / made.scale };
}

/**
 * Whether a picture that was made for one view leaves much of another view's window bare, or is blurred
 * there.
 */
export function isFarOff(made: View, now: View, { width, height }: Size): boolean {
  const { x, y, factor } = shiftBetween(made, now);
  if (factor > 1.8 || factor < 0.7) return true;
  const covered = (at: number, long: number): number =>
    Math.max(0, Math.min(long, at + long * factor) - Math.max(0, at)) / long;
  return covered(x, width) * covered(y, height) < 0.85;
}
