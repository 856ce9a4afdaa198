import type { PatternSet } from '../pattern/set.ts';
import type { Order } from './order.ts';
import type { Part } from './part.ts';

type Groups = PatternSet['content']['groups'];

/**
 * Whether a name in an order means a part: it is the part's own, that of its piece, that of its piece and
 * side, or that of a group with one of these.
 */
export function meansPart(name: string, part: Part, groups: Groups): boolean {
  if (groups === undefined || !Object.hasOwn(groups, name)) return isCalled(name, part);
  return groups[name]!.some((member) => isCalled(member, part));
}

function isCalled(name: string, { piece, side, name: own }: Part): boolean {
  return name === piece || name === own || (side !== null && name === `${piece}-${side}`);
}

/** Whether an order wants a part of its set. */
export function isWanted(
  part: Part,
  { alone, without = [] }: Pick<Order, 'alone' | 'without'>,
  groups: Groups,
): boolean {
  const isNamed = (names: readonly string[]): boolean =>
    names.some((name) => meansPart(name, part, groups));
  return (alone === undefined || isNamed(alone)) && !isNamed(without);
}
