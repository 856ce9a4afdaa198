import { memoryByKey, rememberedFor } from '../../base/remembered.ts';
import type { Block } from '../../drawing/drawing.ts';
import type { LayerMap } from '../../pattern/layers.ts';
import type { Piece } from '../../pattern/piece.ts';
import type { EdgeDraft } from './drawn-traces.ts';

const knownBefore = memoryByKey<Piece, EdgeDraft>(4);

let known = 0;

/** Tells a block from all others. */
const idOfBlock = rememberedFor<Block, number>(() => ++known);

/**
 * A piece whose edges somebody decides, and the block that it was read from. As long as nothing of them changes
 * it is the same object, so that what is remembered of it need not be worked out again.
 */
export function sameEdgeDraft(
  piece: Piece,
  block: Block,
  map: LayerMap,
  { drawn, options }: Pick<EdgeDraft, 'drawn' | 'options'>,
): EdgeDraft {
  const key = JSON.stringify([[...map], drawn, [...options], idOfBlock(block)]);
  return knownBefore(piece, key, () => ({
    piece,
    entities: block.entities,
    map,
    drawn,
    options,
  }));
}
