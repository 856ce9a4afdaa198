import { samePoint } from '../../geometry/paths/tolerance.ts';
import { latticeAbove } from './lattice.ts';
import type { PlacedTurn, Problem } from './layout.ts';

/**
 * Puts items into columns across the strip, box beside box, from `start` on: far from short, but done at once.
 * Each lies in the first of its turns. Gives their places by their number.
 */
export function inColumns(
  { turns, turnsOf, width }: Problem,
  items: readonly number[],
  start: number,
): Map<number, PlacedTurn> {
  const places = new Map<number, PlacedTurn>();
  let [left, right, top] = [start, start, -Infinity];
  for (const i of items) {
    const turn = turnsOf[i]![0]!;
    const { kept, ...box } = turns[turn]!;
    // At the foot of a column a box may reach past the strip's side, if that is allowed.
    const above = (): number => latticeAbove(Math.max(top - box.minY, -kept.minY));
    if (above() + kept.maxY > width + samePoint) [left, top] = [right, -Infinity];
    const [x, y] = [latticeAbove(left - box.minX), above()];
    places.set(i, { turn, x, y });
    right = Math.max(right, x + box.maxX);
    top = y + box.maxY;
  }
  return places;
}
