import type { PartPlace } from '../../../api/lay.ts';
import type { PicturedRoll } from '../../../api/pictured.ts';
import type { Held } from '../holding/holding.ts';
import { verdictHere } from '../holding/holding.ts';
import type { DefectCorners } from '../places/defect.ts';
import type { PartOnRoll } from '../places/placing.ts';
import type { Extent } from '../../picture/view.ts';
import { seenIn, toScreen } from '../../picture/view.ts';
import type { Brush } from './brush.ts';
import { boxPath, fillHatched, partPath, polygonPath, strokePath } from './brush.ts';
import { barredHatch, crossedHatch } from './hatch.ts';
import { rulerMarks } from './ruler.ts';

/** The height of the ruler at the window's upper edge, in heights of the small type. */
export const rulerHeight = 1.9;

/** Draws the ruler: a strip with metre marks, `top` pixels below the window's upper edge. */
export function drawRuler(brush: Brush, end: number, top: number): void {
  const { ctx, inks, ratio, view, size } = brush;
  const { type } = inks;
  const high = rulerHeight * type;
  ctx.fillStyle = inks.strip;
  ctx.fillRect(0, top * ratio, size.width * ratio, high * ratio);
  const [from, , to] = seenIn(view, size);
  const ticks = new Path2D();
  ctx.fillStyle = inks.soft;
  ctx.textAlign = 'left';
  ctx.textBaseline = 'alphabetic';
  ctx.font = `400 ${type * ratio}px ${inks.family}`;
  const apart = 5 * type;
  for (const { at, figure } of rulerMarks(
    from - apart / view.scale,
    Math.min(to, end),
    view.scale,
    apart,
  )) {
    const x = Math.round((at - view.left) * view.scale * ratio) + 0.5;
    ticks.moveTo(x, (top + high) * ratio);
    ticks.lineTo(x, (top + high - (figure === null ? 0.4 : 1.7) * type) * ratio);
    if (figure !== null) ctx.fillText(figure, x + 0.3 * type * ratio, (top + 1.25 * type) * ratio);
  }
  strokePath(brush, ticks, inks.line, 1);
}

/** Draws where bites begin, with their numbers. `top` is where words begin, pixels; so it is below. */
export function drawBites(
  brush: Brush,
  bites: readonly number[],
  roll: PicturedRoll,
  top: number,
): void {
  for (const [i, x] of bites.entries()) {
    drawAcross(brush, x, roll, `bite ${i + 1}`, [10, 4, 2, 4], 1.25, top);
  }
}

/** Draws where the lay ends, with its length. */
export function drawEnd(brush: Brush, length: number, roll: PicturedRoll, top: number): void {
  if (length > 0) drawAcross(brush, length, roll, `${Math.round(length)} mm`, [7, 4], 2, top);
}

function drawAcross(
  brush: Brush,
  mm: number,
  roll: PicturedRoll,
  words: string,
  dash: readonly number[],
  width: number,
  top: number,
): void {
  const { ctx, inks, ratio, view, size } = brush;
  const from = toScreen(view, { x: mm, y: roll.width });
  const to = toScreen(view, { x: mm, y: 0 });
  if (from.x < -200 || from.x > size.width) return;
  const { type } = inks;
  const line = new Path2D();
  line.moveTo(from.x * ratio, top * ratio);
  line.lineTo(from.x * ratio, Math.min(to.y + 4, size.height) * ratio);
  strokePath(brush, line, inks.ink, width, dash);
  ctx.font = `600 ${type * ratio}px ${inks.family}`;
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  const wide = ctx.measureText(words).width / ratio + 8;
  const left = from.x + wide > size.width ? from.x - wide - 2 : from.x + 2;
  ctx.fillStyle = inks.strip;
  ctx.fillRect(left * ratio, top * ratio, wide * ratio, 1.4 * type * ratio);
  ctx.fillStyle = inks.ink;
  ctx.fillText(words, (left + 4) * ratio, (top + 0.75 * type) * ratio);
}

/**
 * Draws a selected part: a heavy outline with handles at the corners of its box, or the handles alone
 * where parts are faint.
 */
export function drawSelected(brush: Brush, one: PartOnRoll, faint: boolean): void {
  if (!faint) strokePath(brush, partPath(brush, one), brush.inks.accent, 3);
  drawHandles(brush, one.box);
}

function drawHandles({ ctx, inks, ratio, view }: Brush, [minX, minY, maxX, maxY]: Extent): void {
  const side = 8 * ratio;
  const half = 0.5 * side;
  for (const [x, y] of [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ] as const) {
    const at = toScreen(view, { x, y });
    ctx.fillStyle = inks.part;
    ctx.fillRect(at.x * ratio - half, at.y * ratio - half, side, side);
    ctx.strokeStyle = inks.accent;
    ctx.lineWidth = 2 * ratio;
    ctx.strokeRect(at.x * ratio - half, at.y * ratio - half, side, side);
  }
}

/** Draws a dashed frame about the box of the part that the walk has come to. */
export function drawFocused(brush: Brush, { box }: PartOnRoll): void {
  const off = 5 / brush.view.scale;
  const frame = boxPath(brush, [box[0] - off, box[1] - off, box[2] + off, box[3] + off]);
  strokePath(brush, frame, brush.inks.strip, 4);
  strokePath(brush, frame, brush.inks.accent, 2, [6, 3]);
}

/**
 * Draws a part that is being moved: its old place empty, the part at `at`, and the nearest place where
 * it may lie.
 */
export function drawHeld(brush: Brush, held: Held, one: PartOnRoll, at: PartPlace): void {
  const { ctx, inks, hatches } = brush;
  const { part } = one;
  const left = partPath(brush, { part, place: held.from });
  ctx.fillStyle = inks.cloth;
  ctx.fill(left, 'evenodd');
  strokePath(brush, left, inks.cloth, 3.5);
  strokePath(brush, left, inks.line, 1, [2, 3]);
  const isRefused = held.phase !== 'down' && (held.verdict?.findings.length ?? 0) > 0;
  const near = held.phase === 'held' ? (verdictHere(held)?.near ?? null) : null;
  if (near !== null) {
    strokePath(brush, partPath(brush, { part, place: near }), inks.accent, 2, [8, 4]);
  }
  const path = partPath(brush, { part, place: at });
  ctx.globalAlpha = 0.85;
  ctx.fillStyle = inks.part;
  ctx.fill(path, 'evenodd');
  ctx.globalAlpha = 1;
  if (isRefused) {
    fillHatched(brush, path, hatches.refused[barredHatch]!);
    strokePath(brush, path, inks.refused, 4, [10, 6]);
  } else {
    strokePath(brush, path, held.verdict === null ? inks.ink : inks.accent, 3);
  }
}

/** Draws a defect that is just being drawn. */
export function drawMarking(brush: Brush, corners: DefectCorners): void {
  const path = polygonPath(brush, corners.flat());
  fillHatched(brush, path, brush.hatches.strong[crossedHatch]!);
  strokePath(brush, path, brush.inks.accent, 2, [6, 4]);
}
