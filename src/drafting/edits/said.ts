import type { DraftContent } from '../content.ts';
import type { EditOf } from '../draft-edit.ts';
import { pieceSaid } from '../blocks.ts';
import { answeredIn, filled, withPiece, withValues } from '../values.ts';

/** Other values for the set as a whole. */
export function editSet(content: DraftContent, { values, answered }: EditOf<'set'>): DraftContent {
  return { ...content, said: withValues(answeredIn(content.said, answered), values) };
}

/** The same values for several pieces. */
export function editPieces(
  content: DraftContent,
  { pieces, values, answered }: EditOf<'pieces'>,
): DraftContent {
  return pieces.reduce(
    (before, piece) =>
      withPiece(before, piece, withValues(answeredIn(pieceSaid(before, piece), answered), values)),
    content,
  );
}

/** What a layer means, in the whole set or on one piece. */
export function editLayer(
  content: DraftContent,
  { layer, means, piece }: EditOf<'layer'>,
): DraftContent {
  const answer = { [layer]: means };
  if (piece === null) {
    const layers = filled(withValues(content.said.layers ?? {}, answer));
    return { ...content, said: withValues(content.said, { layers }) };
  }
  const entry = pieceSaid(content, piece);
  const layers = filled(withValues(entry.layers ?? {}, answer));
  return withPiece(content, piece, withValues(entry, { layers }));
}
