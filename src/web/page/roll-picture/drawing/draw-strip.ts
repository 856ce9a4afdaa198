import type { PartOnRoll } from '../places/placing.ts';
import { placeMatrix } from '../places/placing.ts';
import { matrixProduct } from '../../picture/view.ts';
import { pathsOf } from './brush.ts';
import { inksOf, orderInk } from './inks.ts';
import type { Scene } from './scene.ts';

/** Parts narrower than this, pixels, would be nothing but outline. */
const sharp = 5;

/**
 * Draws a roll as far as `reach`, mm, over all of a canvas, with other scales along and across: it only has to be seen
 * where parts lie, and of which order.
 */
export function drawStrip(canvas: HTMLCanvasElement, scene: Scene, reach: number): void {
  const { roll, placed, manner, length } = scene;
  const ratio = Math.min(2, window.devicePixelRatio || 1);
  const { width, height } = canvas.getBoundingClientRect();
  canvas.width = Math.max(1, Math.round(width * ratio));
  canvas.height = Math.max(1, Math.round(height * ratio));
  const ctx = canvas.getContext('2d')!;
  const inks = inksOf(canvas);
  const along = canvas.width / reach;
  const across = canvas.height / roll.width;
  ctx.fillStyle = inks.cloth;
  ctx.fillRect(0, 0, canvas.width, canvas.height);
  ctx.fillStyle = inks.waste;
  ctx.fillRect(0, 0, length * along, canvas.height);
  ctx.strokeStyle = inks.ink;
  ctx.lineWidth = 0.5 * ratio;
  for (const one of placed) {
    const path = pathIn(one, along, across, roll.width);
    ctx.fillStyle =
      manner.orders.length > 1 ? orderInk(inks, manner.orders, one.part.order) : inks.part;
    ctx.fill(path, 'evenodd');
    if ((one.box[2] - one.box[0]) * along > sharp * ratio) ctx.stroke(path);
  }
  ctx.fillStyle = inks.refused;
  for (const ring of roll.defects) {
    ctx.beginPath();
    for (let i = 0; i < ring.length; i += 2) {
      ctx.lineTo(ring[i]! * along, (roll.width - ring[i + 1]!) * across);
    }
    ctx.fill();
  }
}

/** A part where it lies in a strip with so many pixels to a mm along and across the roll. */
function pathIn({ part, place }: PartOnRoll, along: number, across: number, width: number): Path2D {
  const path = new Path2D();
  const matrix = matrixProduct([along, 0, 0, -across, 0, width * across], placeMatrix(place));
  path.addPath(pathsOf(part).cut, new DOMMatrix([...matrix]));
  return path;
}
