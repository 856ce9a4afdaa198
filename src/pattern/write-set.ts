import { isMap, parseDocument } from 'yaml';
import type { Block } from '../drawing/drawing.ts';
import { isR12Name, writeR12 } from '../drawing/writing/write-r12.ts';
import { meaningOf, roleColours } from './layers.ts';
import type { Hand } from './words.ts';

/**
 * The text of a set file for a set that was drawn anew: for hand `drawn`, in one drawing in mm with a
 * block for each piece, each in the frame of the vehicle. Everything else stays as in the given set file,
 * comments too. Throws RangeError if the set file lacks a piece.
 */
export function rewrittenSetFile(
  text: string,
  drawn: Hand,
  drawing: string,
  blocks: ReadonlyMap<string, string>,
): string {
  const document = parseDocument(text);
  document.set('drawn', drawn);
  document.set('units', 'mm');
  document.set('drawing', drawing);
  // The new drawing has layers named for their roles, which own names must not change.
  document.delete('layers');
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
 * The drawing of a set: each block inserted where it is drawn, with numbers to the last bit. Layers that
 * say nothing stand out in red.
 */
export function writeSetDrawing(blocks: readonly Block[]): string {
  const used = blocks.flatMap(({ entities }) => entities.map(({ layer }) => layer));
  const layers = [...new Set(['OUTLINE', ...used])].sort();
  return writeR12({
    layers: layers.map((name) => ({
      name,
      colour: colourOfLayer(name),
    })),
    blocks,
    inserts: blocks.map(({ name }) => ({ block: name, layer: 'OUTLINE', at: { x: 0, y: 0 } })),
    entities: [],
    exact: true,
  });
}

function colourOfLayer(name: string): number {
  const meaning = meaningOf(name, new Map());
  return meaning === null ? 1 : roleColours[meaning.role];
}
