import { isMap, parseDocument } from 'yaml';
import type { Block } from '../drawing/drawing.ts';
import { isR12Name, writeR12 } from '../drawing/writing/write-r12.ts';
import type { LayerMap } from './layers.ts';
import { meaningOf, roleColours } from './layers.ts';
import type { Hand } from './words.ts';

/**
 * The text of a set file for a set that was drawn anew: for hand `drawn`, in one drawing in mm with a
 * block for each piece, each in the frame of the vehicle. `layers`: what layers of that drawing mean, if
 * their names do not say it. Everything else stays as in the given set file, comments too. Throws
 * RangeError if the set file lacks a piece.
 */
export function rewrittenSetFile(
  text: string,
  drawn: Hand,
  drawing: string,
  blocks: ReadonlyMap<string, string>,
  layers: ReadonlyMap<string, string> = new Map(),
): string {
  const document = parseDocument(text);
  document.set('drawn', drawn);
  document.set('units', 'mm');
  document.set('drawing', drawing);
  // The new drawing has layers named for their roles, which own names must not change.
  document.delete('layers');
  document.delete('drawnBy');
  if (layers.size > 0) document.set('layers', Object.fromEntries(layers));
  document.delete('at');
  // It holds nothing but the pieces.
  document.delete('unused');
  for (const [piece, block] of blocks) {
    const entry = document.getIn(['pieces', piece]);
    if (!isMap(entry)) throw new RangeError(`the set file has no piece ${piece}`);
    // The piece is now drawn whole and in its place: keys that said otherwise go.
    for (const key of ['file', 'at', 'half', 'other', 'layers']) entry.delete(key);
    if (block === piece.toUpperCase()) entry.delete('block');
    else entry.set('block', block);
  }
  return document.toString({ lineWidth: 0 });
}

/**
 * Names for the blocks of an R12 drawing: the name of the piece in capitals if R12 allows it, otherwise a
 * number.
 */
export function blockNames(pieces: readonly string[]): Map<string, string> {
  return new Map(
    pieces.map((piece, i) => {
      const own = piece.toUpperCase();
      return [piece, isR12Name(own) ? own : `PIECE-${i + 1}`];
    }),
  );
}

/**
 * The blocks with names of layers that R12 allows, and what the new ones stand for: names with several
 * options are too long for it.
 */
export function shortLayers(blocks: readonly Block[]): {
  blocks: readonly Block[];
  layers: ReadonlyMap<string, string>;
} {
  const used = blocks.flatMap(({ entities }) => entities.map(({ layer }) => layer));
  const long = [...new Set(used)].filter((layer) => !isR12Name(layer));
  const free = used.map((_, i) => `OPTION-${i + 1}`).filter((name) => !used.includes(name));
  const short = new Map(long.map((layer, i) => [layer, free[i]!]));
  return {
    blocks: blocks.map(({ name, entities }) => ({
      name,
      entities: entities.map((one) => ({ ...one, layer: short.get(one.layer) ?? one.layer })),
    })),
    layers: new Map([...short].map(([layer, name]) => [name, layer])),
  };
}

/**
 * The drawing of a set: each block inserted where it is drawn, with numbers to the last bit. Layers that
 * say nothing, and are not among its `own`, stand out in red.
 */
export function writeSetDrawing(blocks: readonly Block[], own: LayerMap = new Map()): string {
  const used = blocks.flatMap(({ entities }) => entities.map(({ layer }) => layer));
  const layers = [...new Set(['OUTLINE', ...used])].sort();
  return writeR12({
    layers: layers.map((name) => ({
      name,
      colour: colourOfLayer(name, own),
    })),
    blocks,
    inserts: blocks.map(({ name }) => ({ block: name, layer: 'OUTLINE', at: { x: 0, y: 0 } })),
    entities: [],
    exact: true,
  });
}

function colourOfLayer(name: string, own: LayerMap): number {
  const meaning = meaningOf(name, own);
  return meaning === null ? 1 : roleColours[meaning.role];
}
