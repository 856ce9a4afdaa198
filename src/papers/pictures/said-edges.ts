import { pathLength } from '../../geometry/paths/path.ts';
import { claimEdges, traceTolerance, tracesOf } from '../../pattern/edges.ts';
import type { Piece } from '../../pattern/piece.ts';
import type { EdgeKind } from '../../pattern/words.ts';

/** What kinds of edges are called in pictures of a set. */
export const edgeKindWords = {
  bound: 'bound edge',
  seam: 'seam',
  tuck: 'tuck edge',
  turned: 'turned edge',
  raw: 'raw edge',
};

/**
 * The kind that edges of a piece have because the set file says it for all that no line traces. null: each has a line,
 * or nobody said.
 */
export function usualEdge({ outline, features, entry, where }: Piece): EdgeKind | null {
  if (entry.edge === undefined) return null;
  const { stretches } = claimEdges(outline, tracesOf(features), null, where);
  const traced = stretches.reduce((sum, { path }) => sum + pathLength(path), 0);
  return traced > pathLength(outline) - traceTolerance ? null : entry.edge;
}
