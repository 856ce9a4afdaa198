import { refuse } from '../base/findings.ts';
import type { Block, Entity } from '../drawing/drawing.ts';
import type { DraftContent, PieceSaid } from './content.ts';

/** What a piece of a draft is called in the drawing: its block. */
export function blockNameOf(piece: string, { block }: PieceSaid): string {
  return (block ?? piece).toUpperCase();
}

export function pieceSaid({ said }: DraftContent, piece: string): PieceSaid {
  const entry = Object.hasOwn(said.pieces, piece) ? said.pieces[piece] : undefined;
  return entry ?? refuse('draft', `there is no piece "${piece}" any more.`, lookAgain, { piece });
}

/** A block by its name, whether that is written in capitals or not. undefined: there is none. */
export function findBlock(
  { blocks }: Pick<DraftContent, 'blocks'>,
  name: string,
): Block | undefined {
  return blocks.find((block) => isNamed(block, name));
}

export function blockNamed(content: DraftContent, name: string): Block {
  const found = findBlock(content, name);
  return found ?? refuse('draft', `there is no block "${name}" any more.`, lookAgain);
}

export function blockOfPiece(content: DraftContent, piece: string): Block {
  return blockNamed(content, blockNameOf(piece, pieceSaid(content, piece)));
}

/** The things of a block that are named by their places, in the order of the drawing. */
export function thingsOf(block: Block, places: readonly number[]): Entity[] {
  const found = block.entities.filter((_, i) => places.includes(i));
  return found.length === new Set(places).size
    ? found
    : refuse('draft', 'something that was chosen is not there any more.', lookAgain);
}

const lookAgain = 'The set was changed: look at it again.';

/** The content with other entities in one block. A block that had none of that name is added. */
export function withEntities(
  content: DraftContent,
  name: string,
  entities: readonly Entity[],
): DraftContent {
  const blocks = findBlock(content, name)
    ? content.blocks.map((block) => (isNamed(block, name) ? { ...block, entities } : block))
    : [...content.blocks, { name, entities }];
  return { ...content, blocks };
}

export function withoutBlock(content: DraftContent, name: string): DraftContent {
  return { ...content, blocks: content.blocks.filter((block) => !isNamed(block, name)) };
}

function isNamed(block: Block, name: string): boolean {
  return block.name.toUpperCase() === name.toUpperCase();
}
