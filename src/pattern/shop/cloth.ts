import type { Material } from './material.ts';

/** A material in one of its colours: what is on one roll. */
export interface Cloth {
  readonly material: Material;
  /** Left out: the material is kept in no colours. */
  readonly colour?: string;
}

/** What a part or a roll of a material is of. */
export function clothOf(
  { colour }: { readonly colour?: string | undefined },
  material: Material,
): Cloth {
  return { material, ...(colour === undefined ? {} : { colour }) };
}

/** Whether a part is cut from a cloth. */
export function isCutFrom(
  part: { readonly material: string; readonly colour?: string | undefined },
  { material, colour }: Cloth,
): boolean {
  return part.material === material.name && part.colour === colour;
}

/** What files and rolls of a cloth are called by: `carpet-loop-claret`. */
export function clothName(material: string, colour: string | null | undefined): string {
  return colour === null || colour === undefined ? material : `${material}-${colour}`;
}

/** A cloth in words: `loop-pile carpet, claret`. */
export function wordCloth({ material, colour }: Cloth): string {
  return colour === undefined ? material.title : `${material.title}, ${colour}`;
}

/** The price of a metre, as its file writes it: that of its colour, or that of the material. */
export function clothPrice({ material, colour }: Cloth): string | undefined {
  return (colour === undefined ? undefined : material.colours?.[colour]?.price) ?? material.price;
}

/** The colour itself, for pictures: `#6b1f2a`. undefined: the material is kept in no colours. */
export function clothSample({ material, colour }: Cloth): string | undefined {
  return colour === undefined ? undefined : material.colours?.[colour]?.sample;
}
