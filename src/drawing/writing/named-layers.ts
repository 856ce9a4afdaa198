import type { Entity } from '../drawing.ts';

/** A layer of a drawing that is written. */
export interface NamedLayer {
  readonly name: string;
  /** DXF colour number, 1 to 255. */
  readonly colour: number;
}

/** The layers, with layer 0 before them if it is missing: every drawing has it. */
export function withLayerZero(layers: readonly NamedLayer[]): readonly NamedLayer[] {
  return layers.some(({ name }) => name === '0') ? layers : [{ name: '0', colour: 7 }, ...layers];
}

/** Whether DXF, in versions since 2000, allows this as the name of a layer. */
export function isLayerName(name: string): boolean {
  // A package that keeps layers in a plain object would lose one of the name __proto__.
  return /^[^<>/\\":;?*|=,`\p{Cc}\p{Surrogate}]{1,255}$/u.test(name) && name !== '__proto__';
}

/**
 * Throws RangeError if DXF does not allow a name or a colour, if two layers have one name, or if the
 * layer of an entity is missing.
 */
export function checkLayers(layers: readonly NamedLayer[], entities: readonly Entity[]): void {
  const names = new Set<string>();
  for (const { name, colour } of layers) {
    if (!isLayerName(name)) throw new RangeError(`DXF takes no layer named ${name}`);
    // Readers of the file do not tell upper from lower case.
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
