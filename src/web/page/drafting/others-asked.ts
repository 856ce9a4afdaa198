import type { Question } from '../../../drafting/questions.ts';
import type { PieceView } from '../../../drafting/view.ts';

/** Other pieces of which the same is asked, with the same value as a guess. */
export function othersAsked(
  { piece, key, message }: Question,
  questions: readonly Question[],
  pieces: ReadonlyMap<string, PieceView>,
): string[] {
  if (piece === null || key === null || key === 'texts' || key === 'piece') return [];
  const valueOf = (name: string): string =>
    JSON.stringify(pieces.get(name)?.said[key as keyof PieceView['said']]);
  return questions.flatMap((one) =>
    one.piece !== null &&
    one.piece !== piece &&
    one.key === key &&
    one.message === message &&
    valueOf(one.piece) === valueOf(piece)
      ? [one.piece]
      : [],
  );
}
