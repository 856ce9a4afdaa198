import type { Finding } from '../../base/findings.ts';
import { bendOf } from '../../geometry/measuring/bend.ts';
import { nearestOnPath } from '../../geometry/measuring/nearest.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { pieceError, pieceWarning } from '../findings.ts';
import type { Piece } from '../piece.ts';
import type { Feature } from '../feature.ts';

/**
 * How far a fold line may end short of an edge, mm. Chalk on carpet is no finer, and the carpet folds
 * there all the same.
 */
const reach = 5;

/** How far a fold line may bend out of the straight, mm. */
const mostBend = 0.5;

/**
 * Rule: a fold line is straight and goes from edge to edge. The edge may be that of a cutout or a hole.
 */
export function checkFolds(piece: Piece): Finding[] {
  const edges = [piece.outline, ...piece.features.filter(isCutOut).map(({ path }) => path)];
  return piece.features
    .filter(({ role }) => role === 'FOLD')
    .flatMap((fold) => checkFold(piece, fold, edges));
}

function isCutOut({ role, path }: Feature): boolean {
  return (role === 'CUTOUT' || role === 'HOLE') && path.closed;
}

function checkFold(piece: Piece, { path, line }: Feature, edges: readonly Path[]): Finding[] {
  const bend = bendOf(path);
  if (bend.distance > mostBend) {
    const message = `this FOLD line bends ${bend.distance.toFixed(1)} mm out of the straight.`;
    const todo = 'Draw it as one straight line: carpet folds in no other.';
    return [pieceError(piece, { rule: 'fold-crooked', message, todo }, { line, at: bend.at })];
  }
  const ends = [path.vertices[0]!, path.vertices.at(-1)!];
  return ends.flatMap((at) => {
    const gap = Math.min(...edges.map((edge) => nearestOnPath(edge, at).distance));
    if (gap <= reach) return [];
    const message = `this FOLD line ends ${gap.toFixed(1)} mm from the nearest edge of the piece.`;
    const todo = 'Draw it on to the edge, or put it on layer MARK if nothing is folded.';
    return [pieceWarning(piece, { rule: 'fold-short', message, todo }, { line, at })];
  });
}
