import type { Question } from '../../../../drafting/questions.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import type { SentEdit } from '../../server/calls.ts';

/** Whether an edit says what all the things are that a question asks about. */
export function isSettledBy(
  { rule, piece, things }: Pick<Question, 'rule' | 'piece' | 'things'>,
  edit: SentEdit,
  pieces: ReadonlyMap<string, Pick<PieceView, 'block'>>,
): boolean {
  if (rule !== 'unknown-layer' || piece === null || edit.kind !== 'mean') return false;
  const block = pieces.get(piece)?.block;
  const all = [{ block: edit.block, things: edit.things }, ...(edit.also ?? [])];
  const said = new Set(all.filter((one) => one.block === block).flatMap((one) => one.things));
  return things.length > 0 && things.every((one) => said.has(one));
}
