import { refuse } from '../../base/findings.ts';
import { blockOfPiece } from '../blocks.ts';
import type { DraftContent } from '../content.ts';
import type { EdgeContext } from '../edit-context.ts';
import type { EdgeDraft } from '../edges/drawn-traces.ts';
import { sameEdgeDraft } from '../edges/same-draft.ts';

/** A piece whose edges are edited. Throws a Refusal where there is none of that name, or it cannot be read. */
export function edgeDraftOf(content: DraftContent, name: string, context: EdgeContext): EdgeDraft {
  const block = blockOfPiece(content, name);
  const read = context.read();
  const piece = read.pieces.find((one) => one.name === name);
  if (piece === undefined) {
    const todo = 'Look at what is asked about its outline first.';
    return refuse('draft', 'the outline of this piece cannot be read.', todo, { piece: name });
  }
  return sameEdgeDraft(piece, block, context.layersOf(name), read);
}
