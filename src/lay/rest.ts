import type { Point } from '../geometry/paths/point.ts';
import type { Roll } from './lay.ts';

/**
 * What a lay leaves on its roll, in whole mm, rounded down. `taken` is the length of the lay, mm: from the
 * start of the roll, with its start margin, to the far edge of the last part. There the roll is cut off
 * square. Nothing is trimmed besides, and feeds between bites lose no cloth. The new end has the same start
 * margin once more, so no more than that counts as nothing: 0. null: nobody knows, because the length was
 * not said.
 */
export function restLength(
  { length, startMargin }: Pick<Roll, 'length' | 'startMargin'>,
  taken: number,
): number | null {
  if (length === Infinity) return null;
  // Lengths are recorded with six decimals: what is lost there is no mm.
  const rest = Math.floor(length - taken + 1e-5);
  return rest > startMargin ? rest : 0;
}

/**
 * The outline of what is left of a remnant that is cut off square at `taken`, mm from its start: in mm from its new
 * start. It is cut off edge by edge (Sutherland and Hodgman, "Reentrant polygon clipping", 1974), so what falls into
 * several parts stays joined along the cut, where no part can lie.
 */
export function restOutline(outline: readonly Point[], taken: number): Point[] {
  return outline.flatMap((to, i): Point[] => {
    const from = outline.at(i - 1)!;
    const share = (taken - from.x) / (to.x - from.x);
    const crossing = { x: 0, y: from.y + share * (to.y - from.y) };
    const isIn = to.x >= taken;
    const crosses = isIn !== from.x >= taken;
    return [...(crosses ? [crossing] : []), ...(isIn ? [{ x: to.x - taken, y: to.y }] : [])];
  });
}
