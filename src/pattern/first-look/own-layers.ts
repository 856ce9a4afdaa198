import { isR12Name } from '../../drawing/writing/write-r12.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf } from '../layers.ts';

/** The names that layers of a customer's drawing have in the drawing of a set. */
export interface OwnLayers {
  /** The name of a layer of the given drawing; as it is there if R12 allows it. */
  nameOf(layer: string): string;
}

/**
 * Names for layers that say nothing: as near to their own as R12 allows, each layer with its own, and none
 * that would say something. `layers`: all layers of the drawing.
 */
export function ownLayerNames(layers: readonly string[], map: LayerMap): OwnLayers {
  const names = new Map<string, string>();
  const taken = new Set<string>();
  const unknown = [...new Set(layers.map((layer) => layer.toUpperCase()))].filter(
    (layer) => meaningOf(layer, map) === null,
  );
  // Names that need no change come first, so that no other layer is given one of these.
  for (const layer of unknown.toSorted((a, b) => Number(isR12Name(b)) - Number(isR12Name(a)))) {
    const base = cleaned(layer);
    let own = base;
    for (let n = 2; taken.has(own) || meaningOf(own, map) !== null; n++) own = `${base}-${n}`;
    taken.add(own);
    names.set(layer, own);
  }
  return { nameOf: (layer) => names.get(layer.toUpperCase()) ?? cleaned(layer) };
}

/** A name that R12 allows, with room for a number behind it. */
function cleaned(layer: string): string {
  const upper = layer.toUpperCase();
  if (isR12Name(upper)) return upper;
  const plain = upper.normalize('NFKD').replaceAll(/\p{Mark}/gu, '');
  const short = plain
    .replaceAll(/[^A-Z0-9_$-]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 27);
  return short === '' ? 'LAYER' : short;
}
