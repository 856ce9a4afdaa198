import type { Entity } from '../drawing.ts';

/** A layer of a drawing of the newer flavour. */
export interface NamedLayer {
  readonly name: string;
  /** DXF colour number, 1 to 255. */
  readonly colour: number;
}

/** Whether versions of DXF since 2000 take this as the name of a layer. */
export function isLayerName(name: string): boolean {
  // A package that keeps layers by name in a plain object loses one of this name.
  return /^[^<>/\\":;?*|=,`\p{Cc}\p{Surrogate}]{1,255}$/u.test(name) && name !== '__proto__';
}

/** Throws RangeError on names and colours that DXF does not take, and on an entity whose layer is not given. */
export function checkLayers(layers: readonly NamedLayer[], entities: readonly Entity[]): void {
  const names = new Set<string>();
  for (const { name, colour } of layers) {
    if (!isLayerName(name)) throw new RangeError(`DXF takes no layer named ${name}`);
    // Upper and lower case are the same layer to those who read the file.
    if (names.has(name.toUpperCase())) throw new RangeError(`there are two layers named ${name}`);
    if (!Number.isInteger(colour) || colour < 1 || colour > 255) {
      throw new RangeError(`layer ${name} has colour ${colour}; DXF has 1 to 255`);
    }
    names.add(name.toUpperCase());
  }
  const given = new Set(layers.map(({ name }) => name));
  const stray = entities.find(({ layer }) => !given.has(layer));
  if (stray !== undefined) throw new RangeError(`there is no layer ${stray.layer}`);
}
