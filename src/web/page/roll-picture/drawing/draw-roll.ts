import type { PicturedRoll } from '../../../api/pictured.ts';
import type { Extent } from '../../picture/view.ts';
import { seenIn } from '../../picture/view.ts';
import type { Brush } from './brush.ts';
import { boxPath, fillHatched, polygonPath, strokePath } from './brush.ts';
import { barredHatch, crossedHatch } from './hatch.ts';

/**
 * Draws the bare roll up to `end` mm: what is wasted between the parts of a lay of this length, the cloth behind it,
 * selvedges and start margin hatched, defects cross-hatched, and the outline of a remnant.
 */
export function drawRoll(brush: Brush, roll: PicturedRoll, length: number, end: number): void {
  const { ctx, inks, hatches } = brush;
  const { width, selvedge, startMargin, outline } = roll;
  const whole = boxPath(brush, inSight(brush, [0, 0, end, width]));
  ctx.fillStyle = inks.cloth;
  ctx.fill(whole);
  if (length > 0) {
    ctx.fillStyle = inks.waste;
    ctx.fill(boxPath(brush, inSight(brush, [0, 0, Math.min(length, end), width])));
  }
  const strips: readonly Extent[] = [
    [0, 0, end, selvedge],
    [0, width - selvedge, end, width],
    [0, selvedge, startMargin, width - selvedge],
  ];
  for (const strip of strips) drawStrip(brush, strip);
  if (outline !== null) drawRemnant(brush, outline, [0, 0, end, width]);
  for (const defect of roll.defects) {
    const path = polygonPath(brush, defect);
    ctx.fillStyle = inks.cloth;
    ctx.fill(path);
    fillHatched(brush, path, hatches.strong[crossedHatch]!);
    strokePath(brush, path, inks.ink, 1.5, [5, 3]);
  }
  strokePath(brush, edgesOf(brush, width, end), inks.line, 1);
  strokePath(brush, acrossAt(brush, end, width), inks.line, 1, roll.length === null ? [3, 4] : []);
}

function drawStrip(brush: Brush, [minX, minY, maxX, maxY]: Extent): void {
  if (maxX <= minX || maxY <= minY) return;
  const path = boxPath(brush, inSight(brush, [minX, minY, maxX, maxY]));
  fillHatched(brush, path, brush.hatches.strong[barredHatch]!);
  strokePath(brush, path, brush.inks.line, 0.75);
}

/** Draws the outline of a remnant, and hatches what lies past its edge. */
function drawRemnant(brush: Brush, outline: readonly number[], whole: Extent): void {
  const past = boxPath(brush, whole);
  past.addPath(polygonPath(brush, outline));
  fillHatched(brush, past, brush.hatches.strong[barredHatch]!);
  strokePath(brush, polygonPath(brush, outline), brush.inks.ink, 1.5);
}

/**
 * An extent cut off shortly past the edges of the canvas, since paths that reach far out of it are
 * slow.
 */
function inSight({ view, size }: Brush, [minX, minY, maxX, maxY]: Extent): Extent {
  const [left, bottom, right, top] = seenIn(view, size);
  const [dx, dy] = [right - left, top - bottom];
  return [
    Math.max(minX, left - dx),
    Math.max(minY, bottom - dy),
    Math.min(maxX, right + dx),
    Math.min(maxY, top + dy),
  ];
}

function edgesOf(brush: Brush, width: number, end: number): Path2D {
  const [minX, , maxX] = inSight(brush, [0, 0, end, width]);
  const path = polygonPath(brush, [minX, 0, maxX, 0]);
  path.addPath(polygonPath(brush, [minX, width, maxX, width]));
  path.addPath(acrossAt(brush, 0, width));
  return path;
}

function acrossAt(brush: Brush, x: number, width: number): Path2D {
  return polygonPath(brush, [x, 0, x, width]);
}
