import type { PatternSet } from '../pattern/set.ts';
import type { Material } from '../pattern/shop/material.ts';
import type { Use } from '../pattern/words.ts';
import type { Order } from './order.ts';
import { chosenFor } from './order-choices.ts';
import type { Part } from './part.ts';

const usual: Readonly<Record<Part['kind'], Use>> = {
  piece: 'carpet',
  pad: 'pad',
  board: 'board',
  underlay: 'underlay',
};

/**
 * The use that decides the colour of a part: the one that its piece names in the set file, or, where the
 * piece names a material, the usual one of parts of this kind.
 */
export function useOf(
  { piece, kind }: Pick<Part, 'piece' | 'kind'>,
  { uses }: Pick<PatternSet, 'uses'>,
): Use {
  return uses.get(piece)?.[kind] ?? usual[kind];
}

/**
 * The colour of a part of this material: what the order says for its use, or the only colour that there
 * is. undefined: the material is kept in no colours, or in none that the order names.
 */
export function colourOf(
  part: Pick<Part, 'piece' | 'kind'>,
  { colours }: Material,
  patterns: Pick<PatternSet, 'uses'>,
  order: Order,
): string | undefined {
  if (colours === undefined) return undefined;
  const { colour } = chosenFor(order, useOf(part, patterns));
  if (colour !== undefined && Object.hasOwn(colours, colour)) return colour;
  const [only, ...others] = Object.keys(colours);
  return others.length === 0 ? only : undefined;
}
