import type { Point } from '../../../geometry/paths/point.ts';
import type { RehearsalMoves } from '../../api/rehearsal.ts';
import type { Inks } from '../roll-picture/drawing/inks.ts';
import { inksOf, onThemeChange } from '../roll-picture/drawing/inks.ts';
import type { Overlay } from '../roll-picture/drawing/scene.ts';
import type { Size, View } from '../picture/view.ts';
import { sameView, toScreen } from '../picture/view.ts';
import type { Moment } from './timeline.ts';
import { momentAt } from './timeline.ts';
import type { Trail } from './trail.ts';
import { createTrail, strokeKind } from './trail.ts';

/** How much of a frame is spent on drawing the trail, ms. */
const slice = 12;
/** The size of the knife's mark, pixels. */
const knifeRadius = 8;

/**
 * Makes the overlay that shows the knife and its way at the moment that `seconds` gives, and what ends
 * it.
 */
export function createPicture(
  moves: RehearsalMoves,
  seconds: () => number,
  changed: () => void,
): { readonly overlay: Overlay; readonly close: () => void } {
  let shown: Trail | null = null;
  let coming: Trail | null = null;
  let inks: Inks | null = null;
  let made: Size & { readonly ratio: number } = { width: 0, height: 0, ratio: 0 };
  const forget = (): void => {
    shown = null;
    coming = null;
    inks = null;
    changed();
  };
  const overlay: Overlay = (ctx, view, frame) => {
    inks ??= inksOf(ctx.canvas);
    const { width, height, ratio, resting } = frame;
    if (width !== made.width || height !== made.height || ratio !== made.ratio) {
      made = { width, height, ratio };
      shown = null;
      coming = null;
    }
    const moment = momentAt(moves, seconds());
    const until = performance.now() + slice;
    const newest = coming ?? shown;
    if (newest === null || (resting && !sameView(newest.view, view))) {
      coming = createTrail(moves, view, frame, ratio, inks);
    }
    let isThere = shown?.bring(moment.move, until) ?? false;
    if (coming !== null) {
      isThere = coming.bring(moment.move, until);
      if (isThere || shown === null) {
        shown = coming;
        coming = null;
      }
    }
    shown?.show(ctx, view, ratio);
    drawNow(ctx, view, ratio, inks, moves, moment);
    return !isThere;
  };
  const unwatch = onThemeChange(forget);
  return { overlay, close: unwatch };
}

/** Draws as much of the present move as is done, and the knife. */
function drawNow(
  ctx: CanvasRenderingContext2D,
  view: View,
  ratio: number,
  inks: Inks,
  { x, y }: RehearsalMoves,
  moment: Moment,
): void {
  const at = toScreen(view, moment);
  const from = moment.move - 1;
  if (moment.down !== null && from >= 0) {
    const start = toScreen(view, { x: x[from]!, y: y[from]! });
    const line = new Path2D();
    line.moveTo(start.x * ratio, start.y * ratio);
    line.lineTo(at.x * ratio, at.y * ratio);
    strokeKind(ctx, line, moment.down, view, ratio, inks);
  }
  drawKnife(ctx, at, ratio, inks, moment.down);
}

/**
 * Draws the knife: a disc with a cross while it is down, a disc in a ring while it is held shallow, and
 * an open ring while it is up.
 */
function drawKnife(
  ctx: CanvasRenderingContext2D,
  at: Point,
  ratio: number,
  inks: Inks,
  down: number | null,
): void {
  const [x, y, r] = [at.x * ratio, at.y * ratio, knifeRadius * ratio];
  const ring = (radius: number, fill: string | null, width: number): void => {
    ctx.beginPath();
    ctx.arc(x, y, radius, 0, 2 * Math.PI);
    if (fill !== null) {
      ctx.fillStyle = fill;
      ctx.fill();
    }
    ctx.strokeStyle = inks.accent;
    ctx.lineWidth = width * ratio;
    if (width > 0) ctx.stroke();
  };
  ctx.setLineDash([]);
  ctx.beginPath();
  ctx.arc(x, y, r + 2 * ratio, 0, 2 * Math.PI);
  ctx.strokeStyle = inks.part;
  ctx.lineWidth = 2.5 * ratio;
  ctx.stroke();
  if (down === 1) {
    ring(r, inks.accent, 2);
    ctx.beginPath();
    ctx.moveTo(x - 0.7 * r, y);
    ctx.lineTo(x + 0.7 * r, y);
    ctx.moveTo(x, y - 0.7 * r);
    ctx.lineTo(x, y + 0.7 * r);
    ctx.strokeStyle = inks.part;
    ctx.stroke();
    return;
  }
  ring(r, null, 2.5);
  if (down === 2) ring(0.4 * r, inks.accent, 0);
}
