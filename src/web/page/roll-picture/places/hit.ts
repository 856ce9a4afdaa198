import type { Point } from '../../../../geometry/paths/point.ts';
import type { PartOnRoll } from './placing.ts';
import { inPart, onRoll } from './placing.ts';
import type { Size } from '../../picture/view.ts';

/** The part that a point of the roll lies in. Of several it is the last, which is drawn on top. */
export function partAt(placed: readonly PartOnRoll[], spot: Point): PartOnRoll | null {
  return placed.findLast((one) => isOver(one, spot)) ?? null;
}

function isOver({ part, place, box }: PartOnRoll, spot: Point): boolean {
  const [minX, minY, maxX, maxY] = box;
  if (spot.x < minX || spot.x > maxX || spot.y < minY || spot.y > maxY) return false;
  return isInside(part.ring, inPart(place, spot));
}

/**
 * Whether a point is inside a ring by the even-odd rule. The ring has an x and a y for each corner.
 */
export function isInside(ring: readonly number[], { x, y }: Point): boolean {
  let inside = false;
  eachEdge(ring, (x0, y0, x1, y1) => {
    if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) inside = !inside;
  });
  return inside;
}

/**
 * How much room upright text has that is centred on the point for a part's label: width and height, mm.
 */
export function labelRoom({ part, place }: PartOnRoll): Size {
  const at = onRoll(place, { x: part.at[0], y: part.at[1] });
  let [left, right, below, above] = [Infinity, Infinity, Infinity, Infinity];
  const ring = turnedRing(part.ring, place);
  eachEdge(ring, (x0, y0, x1, y1) => {
    if (y0 > at.y !== y1 > at.y) {
      const off = x0 + ((at.y - y0) / (y1 - y0)) * (x1 - x0) - at.x;
      if (off < 0) left = Math.min(left, -off);
      else right = Math.min(right, off);
    }
    if (x0 > at.x !== x1 > at.x) {
      const off = y0 + ((at.x - x0) / (x1 - x0)) * (y1 - y0) - at.y;
      if (off < 0) below = Math.min(below, -off);
      else above = Math.min(above, off);
    }
  });
  const [width, height] = [2 * Math.min(left, right), 2 * Math.min(below, above)];
  return Number.isFinite(width + height) ? { width, height } : { width: 0, height: 0 };
}

function turnedRing(ring: readonly number[], place: PartOnRoll['place']): number[] {
  const turned: number[] = [];
  for (let i = 0; i < ring.length; i += 2) {
    const { x, y } = onRoll(place, { x: ring[i]!, y: ring[i + 1]! });
    turned.push(x, y);
  }
  return turned;
}

function eachEdge(
  ring: readonly number[],
  visit: (x0: number, y0: number, x1: number, y1: number) => void,
): void {
  const count = ring.length;
  for (let i = 0; i < count; i += 2) {
    const j = (i + count - 2) % count;
    visit(ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!);
  }
}
