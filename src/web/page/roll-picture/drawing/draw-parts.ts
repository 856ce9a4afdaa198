import type { PartOnRoll } from '../places/placing.ts';
import { meets, seenIn } from '../../picture/view.ts';
import type { Brush } from './brush.ts';
import { boxPath, fillHatched, partPath, strokePath } from './brush.ts';
import { drawPartLabel } from './draw-label.ts';
import { hatchNumber } from './hatch.ts';
import { orderInk } from './inks.ts';

/** How parts are drawn. */
export interface Manner {
  readonly pinned: ReadonlySet<string>;
  /** All orders of the run, each of which has a hatch of its own. */
  readonly orders: readonly string[];
  /** Whether they are thin and empty, so that something else can be drawn over them. */
  readonly faint: boolean;
}

/**
 * How many pixels of the page a part must measure to be hatched, to show its marks, and to be more than
 * a box.
 */
const sizes = { hatch: 10, marks: 60, shape: 3 };
/** The scale, pixels to a mm, below which outlines are fine. */
const fineBelow = 0.12;
const partsAtOnce = 8;

/**
 * Draws the parts that are in the window. It yields now and then, so that its caller can look at the
 * clock.
 */
export function* drawParts(
  brush: Brush,
  placed: readonly PartOnRoll[],
  manner: Manner,
): Generator<void> {
  const window = seenIn(brush.view, brush.size);
  const seen = placed.filter(({ box }) => meets(box, window));
  for (const [i, one] of seen.entries()) {
    drawPart(brush, one, manner);
    if (i % partsAtOnce === partsAtOnce - 1) yield;
  }
}

function drawPart(brush: Brush, one: PartOnRoll, manner: Manner): void {
  const { inks, ctx, view } = brush;
  const [minX, minY, maxX, maxY] = one.box;
  const size = Math.max(maxX - minX, maxY - minY) * view.scale;
  const path = size < sizes.shape ? boxPath(brush, one.box) : partPath(brush, one);
  const isTold = manner.orders.length > 1 && !manner.faint;
  const fill = isTold ? orderInk(inks, manner.orders, one.part.order) : inks.part;
  ctx.fillStyle = fill;
  ctx.fill(path, 'evenodd');
  if (size < sizes.shape) return;
  if (manner.faint) {
    strokePath(brush, path, inks.line, 0.75);
    return;
  }
  const hatch = brush.hatches.soft[hatchNumber(manner.orders, one.part.order)]!;
  if (size >= sizes.hatch) fillHatched(brush, path, hatch);
  if (size >= sizes.marks) {
    strokePath(brush, partPath(brush, one, 'marks'), inks.soft, 0.75, [4, 3]);
  }
  const isPinned = manner.pinned.has(one.part.label);
  strokePath(brush, path, inks.ink, outlineOf(view.scale, isPinned));
  drawPartLabel(brush, one, isTold, isPinned, fill);
}

function outlineOf(scale: number, isPinned: boolean): number {
  const fine = scale < fineBelow;
  if (isPinned) return fine ? 2 : 3;
  return fine ? 0.6 : 1;
}

/** Draws what the search is trying, as thin dashed outlines. */
export function* drawTried(brush: Brush, placed: readonly PartOnRoll[]): Generator<void> {
  const window = seenIn(brush.view, brush.size);
  const seen = placed.filter(({ box }) => meets(box, window));
  for (const [i, one] of seen.entries()) {
    strokePath(brush, partPath(brush, one), brush.inks.accent, 1, [4, 3]);
    if (i % partsAtOnce === partsAtOnce - 1) yield;
  }
}
