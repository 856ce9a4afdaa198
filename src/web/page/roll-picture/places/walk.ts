import type { Point } from '../../../../geometry/paths/point.ts';
import type { PicturedPart } from '../../../api/pictured.ts';
import type { Extent } from '../../picture/view.ts';
import type { PartOnRoll } from './placing.ts';

/** Parts in the order in which a walk along the roll comes to them. */
function inWalkOrder(placed: readonly PartOnRoll[]): readonly PartOnRoll[] {
  return [...placed].sort((a, b) => a.box[0] - b.box[0] || a.box[1] - b.box[1]);
}

/**
 * The part after (1) or before (-1) the one with a label on the walk along the roll. Where there is
 * none with that label, it is the first or the last; behind the last comes the first again.
 */
export function walkFrom(
  placed: readonly PartOnRoll[],
  label: string | null,
  by: 1 | -1,
): PartOnRoll | null {
  const walk = inWalkOrder(placed);
  const at = walk.findIndex(({ part }) => part.label === label);
  if (at < 0) return walk.at(by === 1 ? 0 : -1) ?? null;
  return walk[(at + by + walk.length) % walk.length] ?? null;
}

/** A part in words, as "cab-floor, order 1041, set 1". */
export function partWords({ name, order, set }: PicturedPart): string {
  return `${name}, order ${order}, set ${set}`;
}

/** A point of the roll in words, as "1240 mm along, 400 mm across". */
export function spotWords({ x, y }: Point): string {
  return `${Math.round(x)} mm along, ${Math.round(y)} mm across`;
}

/** Where a part lies on the roll, by its box, as "1240 to 1890 mm along, 400 to 820 mm across". */
export function boxWords([minX, minY, maxX, maxY]: Extent): string {
  const [x, y, toX, toY] = [minX, minY, maxX, maxY].map(Math.round);
  return `${x} to ${toX} mm along, ${y} to ${toY} mm across`;
}

/** What is said of the part that the walk has come to: what it is and where its box begins. */
export function placedWords({ part, box }: PartOnRoll, pinned: boolean, chosen: boolean): string {
  const words = [partWords(part), spotWords({ x: box[0], y: box[1] })];
  if (pinned) words.push('pinned');
  if (chosen) words.push('selected');
  return words.join(', ');
}
