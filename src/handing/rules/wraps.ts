import type { Finding } from '../../base/findings.ts';
import type { PatternSet } from '../../pattern/set.ts';
import { partWarning } from '../findings.ts';
import type { Part } from '../part.ts';

/** Rule: edges that are to be wrapped round a board are there. */
export function checkWraps(part: Part, { pieces }: PatternSet['content']): Finding[] {
  const wraps = part.kind === 'piece' ? pieces[part.piece]?.board?.wraps : undefined;
  if (wraps === undefined || part.edges.some(({ kind }) => kind === wraps)) return [];
  const message = `its ${wraps} edges are to be wrapped round its board, and it has none.`;
  const todo = 'Draw them, or correct "wraps:" of its board.';
  return [partWarning(part, { rule: 'nothing-to-wrap', message, todo })];
}
