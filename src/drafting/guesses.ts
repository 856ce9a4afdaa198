import { memoryByKey } from '../base/remembered.ts';
import type { Block } from '../drawing/drawing.ts';
import { counterClockwise } from '../geometry/paths/area.ts';
import type { ThingGuess } from '../pattern/first-look/guess-roles.ts';
import { guessRoles } from '../pattern/first-look/guess-roles.ts';
import type { LayerMap } from '../pattern/layers.ts';
import { outlineAmong } from '../pattern/outlines/numbered.ts';

const guessedBefore = memoryByKey<Block, readonly ThingGuess[]>(2);

/**
 * What the things of a block may be that lie on layers which say nothing, as far as their shapes tell. None
 * where the block has no outline that is closed.
 */
export function guessesIn(block: Block, map: LayerMap, piece: string): readonly ThingGuess[] {
  return guessedBefore(block, JSON.stringify([...map, piece]), () => {
    const outline = outlineAmong(block.entities, map);
    if (outline === undefined || !outline.path.closed) return [];
    return guessRoles(block.entities, counterClockwise(outline.path), map, piece);
  });
}

/** Tells things that look alike and lie on one layer from all others, on whichever piece. */
export function alikeKey({ entity, guesses }: ThingGuess): string {
  return JSON.stringify([entity.layer.toUpperCase(), guesses[0]?.kind ?? null]);
}
