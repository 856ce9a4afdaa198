import type { PicturedPart } from '../../../api/pictured.ts';
import type { PartOnRoll } from './placing.ts';
import type { Point } from '../../../../geometry/paths/point.ts';

/** Parts in the order in which a walk along the roll comes to them. */
function inWalkOrder(placed: readonly PartOnRoll[]): readonly PartOnRoll[] {
  return [...placed].sort((a, b) => a.box[0] - b.box[0] || a.box[1] - b.box[1]);
}

/** The part after (1) or before (-1) the one of a label; from none the first or the last, round at the ends. */
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

/** "cab-floor, order 1041, set 1". */
export function partWords({ name, order, set }: PicturedPart): string {
  return `${name}, order ${order}, set ${set}`;
}

/** "1240 mm along, 400 mm across". */
export function spotWords({ x, y }: Point): string {
  return `${Math.round(x)} mm along, ${Math.round(y)} mm across`;
}

/** What is said of the part that a walk has come to: where its box begins. */
export function placedWords({ part, box }: PartOnRoll, pinned: boolean, chosen: boolean): string {
  const words = [partWords(part), spotWords({ x: box[0], y: box[1] })];
  if (pinned) words.push('pinned');
  if (chosen) words.push('selected');
  return words.join(', ');
}
