import type { PicturedPart } from '../../../api/pictured.ts';
import type { PartOnRoll } from '../places/placing.ts';
import { placeMatrix } from '../places/placing.ts';
import type { Extent, Size, View } from '../../picture/view.ts';
import { matrixProduct, viewMatrix } from '../../picture/view.ts';
import type { Hatches } from './hatch.ts';
import { hatchesIn } from './hatch.ts';
import type { Inks } from './inks.ts';

/**
 * All that is needed to draw a view of the roll on a canvas. Widths of lines are in pixels of the page.
 */
export interface Brush {
  readonly ctx: CanvasRenderingContext2D;
  readonly view: View;
  readonly size: Size;
  /** How many pixels of the canvas are one pixel of the page. */
  readonly ratio: number;
  readonly inks: Inks;
  readonly hatches: Tones;
}

/**
 * The hatches in three tones: soft ones for orders, strong ones for cloth that must not be used, and
 * those of a place that is refused.
 */
export interface Tones {
  readonly soft: Hatches;
  readonly strong: Hatches;
  readonly refused: Hatches;
}

export function tonesIn(inks: Inks, ratio: number): Tones {
  return {
    soft: hatchesIn(inks.line, 9 * ratio, 0.75 * ratio),
    strong: hatchesIn(inks.soft, 8 * ratio, ratio),
    refused: hatchesIn(inks.refused, 9 * ratio, 1.5 * ratio),
  };
}

const paths = new WeakMap<PicturedPart, { readonly cut: Path2D; readonly marks: Path2D }>();

/** The contours of a part and its marks, in its own frame; each part is read once. */
export function pathsOf(part: PicturedPart): { readonly cut: Path2D; readonly marks: Path2D } {
  const known = paths.get(part) ?? { cut: new Path2D(part.d), marks: new Path2D(part.marks) };
  paths.set(part, known);
  return known;
}

/**
 * The path of a part's contours, or of its marks, where the part lies on the canvas. It is drawn
 * without a transform.
 */
export function partPath(
  { view, ratio }: Brush,
  { part, place }: Pick<PartOnRoll, 'part' | 'place'>,
  which: 'cut' | 'marks' = 'cut',
): Path2D {
  const drawn = new Path2D();
  const matrix = matrixProduct(viewMatrix(view, ratio), placeMatrix(place));
  drawn.addPath(pathsOf(part)[which], new DOMMatrix([...matrix]));
  return drawn;
}

/**
 * The path of a polygon where it lies on the canvas. `ring` has an x and a y in mm for each corner.
 */
export function polygonPath({ view, ratio }: Brush, ring: readonly number[]): Path2D {
  const drawn = new Path2D();
  const [a, , , d, e, f] = viewMatrix(view, ratio);
  for (let i = 0; i < ring.length; i += 2) drawn.lineTo(a * ring[i]! + e, d * ring[i + 1]! + f);
  drawn.closePath();
  return drawn;
}

export function boxPath(brush: Brush, [minX, minY, maxX, maxY]: Extent): Path2D {
  return polygonPath(brush, [minX, minY, maxX, minY, maxX, maxY, minX, maxY]);
}

/** Fills with a hatch that keeps its place on the roll. */
export function fillHatched(brush: Brush, path: Path2D, hatch: CanvasPattern | null): void {
  if (hatch === null) return;
  const [, , , , e, f] = viewMatrix(brush.view, brush.ratio);
  hatch.setTransform(new DOMMatrix([1, 0, 0, 1, Math.round(e), Math.round(f)]));
  brush.ctx.fillStyle = hatch;
  brush.ctx.fill(path, 'evenodd');
}

export function strokePath(
  { ctx, ratio }: Brush,
  path: Path2D,
  colour: string,
  width: number,
  dash: readonly number[] = [],
): void {
  ctx.strokeStyle = colour;
  ctx.lineWidth = width * ratio;
  ctx.setLineDash(dash.map((length) => length * ratio));
  ctx.stroke(path);
  ctx.setLineDash([]);
}
