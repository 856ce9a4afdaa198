import { isR12Name } from '../../drawing/writing/write-r12.ts';
import type { LayerMap } from '../layers.ts';
import { isNumbered, meaningOf } from '../layers.ts';

/** The names that layers of a customer's drawing have in the drawing of a set. */
export interface OwnLayers {
  /** The name of a layer of the given drawing; as it is there if R12 allows it. */
  nameOf(layer: string): string;
  /** Whether it keeps its own name though it has a meaning, because somebody has said so. */
  isKept(layer: string): boolean;
}

/**
 * Names for layers that say nothing, and for those that are `kept`: as near to their own as R12 allows,
 * each layer with its own, and none that would say something else. `layers`: all layers of the drawing.
 * `kept`: layers that somebody has said something about, which stay so that the answer can be changed.
 */
export function ownLayerNames(
  layers: readonly string[],
  map: LayerMap,
  kept: LayerMap = new Map(),
): OwnLayers {
  const names = new Map<string, string>();
  const taken = new Set<string>();
  const isKept = (layer: string): boolean => kept.has(layer.toUpperCase()) && !isNumbered(layer);
  const own = [...new Set(layers.map((layer) => layer.toUpperCase()))].filter(
    (layer) => meaningOf(layer, map) === null || isKept(layer),
  );
  // Names that need no change come first, so that no other layer is given one of these.
  for (const layer of own.toSorted((a, b) => Number(isR12Name(b)) - Number(isR12Name(a)))) {
    const base = cleaned(layer);
    const isFree = (name: string): boolean =>
      !taken.has(name) && (name === layer || meaningOf(name, map) === null);
    let name = base;
    for (let n = 2; !isFree(name); n++) name = `${base}-${n}`;
    taken.add(name);
    names.set(layer, name);
  }
  return { nameOf: (layer) => names.get(layer.toUpperCase()) ?? cleaned(layer), isKept };
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
