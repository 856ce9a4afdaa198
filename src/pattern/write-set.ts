import { isMap, parseDocument } from 'yaml';
import type { Block } from '../drawing/drawing.ts';
import { isR12Name, writeR12 } from '../drawing/writing/write-r12.ts';
import { meaningOf, roleColours } from './layers.ts';
import type { Hand } from './words.ts';

/**
 * The text of a set file for a set drawn anew: for another hand, in one drawing in mm with a block a
 * piece, each in the vehicle's frame. Everything else, comments too, stays as in the set file given.
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
  for (const [piece, block] of blocks) {
    const sheet = document.getIn(['pieces', piece]);
    if (!isMap(sheet)) throw new RangeError(`the set file has no piece ${piece}`);
    // Drawn whole and in its place: what said otherwise is done.
    for (const key of ['file', 'at', 'half', 'other']) sheet.delete(key);
    if (block === piece.toUpperCase()) sheet.delete('block');
    else sheet.set('block', block);
  }
  return document.toString({ lineWidth: 0 });
}

/** Names for blocks in an R12 drawing: the piece's own in capitals where R12 takes it. */
export function blockNames(pieces: readonly string[]): Map<string, string> {
  return new Map(
    pieces.map((piece, i) => {
      const own = piece.toUpperCase();
      return [piece, isR12Name(own) ? own : `PIECE-${i + 1}`];
    }),
  );
}

/** The drawing of a set: each block placed where it is drawn, numbers to the last bit. */
export function writeSetDrawing(blocks: readonly Block[]): string {
  const used = blocks.flatMap(({ entities }) => entities.map(({ layer }) => layer));
  const layers = [...new Set(['OUTLINE', ...used])].sort();
  return writeR12({
    layers: layers.map((name) => ({
      name,
      colour: roleColours[meaningOf(name, new Map())!.role],
    })),
    blocks,
    inserts: blocks.map(({ name }) => ({ block: name, layer: 'OUTLINE', at: { x: 0, y: 0 } })),
    entities: [],
    exact: true,
  });
}
