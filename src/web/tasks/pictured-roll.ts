import type { Point } from '../../geometry/paths/point.ts';
import type { Roll } from '../../lay/lay.ts';
import type { Material } from '../../pattern/shop/material.ts';
import type { PicturedRoll } from '../api/pictured.ts';

/** A roll as pictures of it show it. */
export function picturedRoll(
  roll: Roll,
  { name, title, colours }: Pick<Material, 'name' | 'title'> & Pick<Partial<Material>, 'colours'>,
  { biteLength, gap }: { readonly biteLength: number; readonly gap: number },
): PicturedRoll {
  return {
    material: name,
    colour: roll.colour ?? null,
    sample: (roll.colour === undefined ? undefined : colours?.[roll.colour]?.sample) ?? null,
    name: roll.name ?? null,
    title,
    width: roll.width,
    selvedge: roll.selvedge,
    startMargin: roll.startMargin,
    length: roll.length === Infinity ? null : roll.length,
    dyeLot: roll.dyeLot ?? null,
    defects: (roll.defects ?? []).map(flat),
    outline: roll.outline === undefined ? null : flat(roll.outline),
    biteLength: biteLength === Infinity ? null : biteLength,
    gap,
  };
}

function flat(polygon: readonly Point[]): number[] {
  return polygon.flatMap(({ x, y }) => [x, y]);
}
