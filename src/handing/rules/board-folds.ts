import type { Finding } from '../../base/findings.ts';
import { middleOfPath } from '../../geometry/paths/path.ts';
import type { PatternSet } from '../../pattern/set.ts';
import { partWarning } from '../findings.ts';
import type { Part } from '../part.ts';

/** Rule: what is fixed to a board of its own outline is not folded. */
export function checkBoardFolds(part: Part, { pieces }: PatternSet['content']): Finding[] {
  if (part.kind !== 'piece' || pieces[part.piece]?.board === undefined) return [];
  return part.marks
    .filter(({ role }) => role === 'FOLD')
    .slice(0, 1)
    .map(({ path }) => {
      const message = 'it folds, and is fixed to a board of its own outline, which does not.';
      const todo =
        'Make two pieces of it, take the fold away, or draw it on MARK if only the board is scored there.';
      return partWarning(part, { rule: 'fold-on-board', message, todo }, middleOfPath(path));
    });
}
