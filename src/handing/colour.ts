import { materialsOfUses } from '../pattern/choice.ts';
import type { PatternSet } from '../pattern/set.ts';
import type { Material } from '../pattern/shop/material.ts';
import type { Use } from '../pattern/words.ts';
import { uses } from '../pattern/words.ts';
import type { Order } from './order.ts';
import { choiceOf, chosenFor } from './order.ts';
import type { PartKind } from './part.ts';

const useOfKind: Readonly<Record<PartKind, Use>> = {
  piece: 'carpet',
  pad: 'pad',
  board: 'board',
  underlay: 'underlay',
};

/**
 * The use to which an order puts a material on a part of this kind: the part's own use, or another use
 * that is cut from this material.
 */
export function useOf(
  kind: PartKind,
  material: string,
  { content }: Pick<PatternSet, 'content'>,
  order: Order,
): Use {
  const own = useOfKind[kind];
  const materials = materialsOfUses(content, choiceOf(order));
  if (materials[own] === undefined || materials[own] === material) return own;
  return uses.find((use) => materials[use] === material) ?? own;
}

/**
 * The colour that an order wants of a part of this kind and material: what it says for the use, or the
 * only colour that there is. undefined: the material is kept in no colours, or in none that the order
 * names.
 */
export function colourOf(
  kind: PartKind,
  { name, colours }: Material,
  patterns: Pick<PatternSet, 'content'>,
  order: Order,
): string | undefined {
  if (colours === undefined) return undefined;
  const { colour } = chosenFor(order, useOf(kind, name, patterns, order));
  if (colour !== undefined && Object.hasOwn(colours, colour)) return colour;
  const [only, ...others] = Object.keys(colours);
  return others.length === 0 ? only : undefined;
}
