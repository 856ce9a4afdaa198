import { ownLayers } from '../pattern/layers.ts';
import { rememberedFor } from '../base/remembered.ts';
import type { Block, Drawing, Entity } from '../drawing/drawing.ts';
import { identity } from '../geometry/paths/transform.ts';
import { writeSetDrawing } from '../pattern/write-set.ts';
import type { DraftContent } from './content.ts';

/**
 * The text of a set's own drawing: its blocks, each shown once where it is drawn. Throws RangeError where R12
 * does not allow the name of a block or layer.
 */
export function ownDrawingText({ said, blocks }: DraftContent): string {
  return writeSetDrawing(blocks, ownLayers(new Map(), said.layers ?? {}));
}

/** What is read of a set's own drawing: its blocks, each shown once, where it is drawn. */
export function ownDrawing(file: string, blocks: readonly Block[]): Drawing {
  return {
    file,
    units: 'mm',
    unitsFrom: 'set',
    blocks,
    entities: blocks.flatMap(placedEntities),
    unplaced: [],
    squareLines: [],
    findings: [],
  };
}

/** The entities of a block as its insert shows them. */
const placedEntities = rememberedFor(({ name, entities }: Block): Entity[] => {
  const placement = { block: name, line: 0, copy: 0, transform: identity };
  return entities.map((entity) => ({ ...entity, placement }));
});
