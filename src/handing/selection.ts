import type { PatternSet } from '../pattern/set.ts';
import type { Order } from './order.ts';
import { sides } from '../pattern/words.ts';
import type { Part } from './part.ts';
import { partKinds } from './part.ts';

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

/**
 * Which piece of a set a name in an order or the name of a part speaks of: `mat-pad-left` and `mat` speak of `mat`.
 * null: of none, as the name of a group.
 */
export function pieceMeant(name: string, pieces: readonly string[]): string | null {
  const fitting = pieces.filter((piece) => name === piece || isPartOf(name, piece));
  return fitting.toSorted((a, b) => b.length - a.length)[0] ?? null;
}

const partEnd = new RegExp(`^(-(${partKinds.join('|')}))?(-(${sides.join('|')}))?(-[0-9]+)?$`);

function isPartOf(name: string, piece: string): boolean {
  return name.startsWith(`${piece}-`) && partEnd.test(name.slice(piece.length));
}
