import type { Box } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { transformPath } from '../geometry/paths/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Placement } from './lay.ts';
import { placementTransform } from './lay.ts';

/** From where to where something reaches along the roll, mm from its start. */
export type Reach = Pick<Box, 'minX' | 'maxX'>;

/** From where to where a part reaches along the roll, at its placement. */
export function reachOf({ cut }: Pick<Part, 'cut'>, placement: Placement): Reach {
  const { minX, maxX } = boxOfPath(transformPath(placementTransform(placement), cut));
  return { minX, maxX };
}

/** What lies on the bed between two feeds, and is cut there. */
export interface OnBed<T extends Reach> {
  /** Where the bed begins, mm from the roll's start. */
  readonly start: number;
  /** In the order in which they begin. */
  readonly items: readonly T[];
}

/**
 * The name of a bite in file names. Numbers have zeros in front, so that files sort in order. `of`: how
 * many bites there are.
 */
export function biteName(number: number, of: number): string {
  return `bite-${String(number).padStart(String(of).length, '0')}`;
}

/** Sums of numbers with six decimals may put a contour past the bed by this much, mm. */
export const biteSlack = 1e-4;

/**
 * Divides items on a roll into bites. Everything that lies whole on the bed is cut, and then the roll is
 * fed on to the first item that does not. So no item is ever cut in two, and there are as few bites as
 * possible. An item longer than the bed is put into a bite all the same.
 *
 * The first bite begins at the start of the roll, unless a feed to the first item saves a bite. Feeds are
 * whole millimetres if that leaves the first item on the bed.
 */
export function bitesOf<T extends Reach>(items: readonly T[], biteLength: number): OnBed<T>[] {
  const inOrder = [...items].sort((a, b) => a.minX - b.minX || a.maxX - b.maxX);
  const [first] = inOrder;
  if (first === undefined) return [];
  const fed = bitesFrom(startAt(first, biteLength), inOrder, biteLength);
  if (first.maxX > biteLength + biteSlack) return fed;
  const unfed = bitesFrom(0, inOrder, biteLength);
  return fed.length < unfed.length ? fed : unfed;
}

function bitesFrom<T extends Reach>(
  from: number,
  inOrder: readonly T[],
  biteLength: number,
): OnBed<T>[] {
  const bites: OnBed<T>[] = [];
  let start = from;
  let waiting = inOrder;
  while (waiting.length > 0) {
    const isOnBed = (item: T, i: number): boolean =>
      i === 0 || item.maxX <= start + biteLength + biteSlack;
    bites.push({ start, items: waiting.filter(isOnBed) });
    waiting = waiting.filter((item, i) => !isOnBed(item, i));
    if (waiting.length > 0) start = startAt(waiting[0]!, biteLength);
  }
  return bites;
}

function startAt({ minX, maxX }: Reach, biteLength: number): number {
  return Math.min(minX, Math.max(Math.floor(minX + biteSlack), maxX - biteLength));
}
