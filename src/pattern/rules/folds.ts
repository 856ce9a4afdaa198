import type { Finding } from '../../base/findings.ts';
import { nearestOnPath } from '../../geometry/measuring/nearest.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { segmentsOf } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { nearestOnSegment, pointAt } from '../../geometry/paths/segment.ts';
import { traceTolerance } from '../edges.ts';
import { pieceError, pieceWarning } from '../findings.ts';
import type { Piece } from '../piece.ts';
import type { Feature } from '../feature.ts';

/**
 * How far a fold line may end short of an edge, mm. Chalk on carpet is no finer, and the carpet folds
 * there all the same.
 */
const reach = 5;

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
  const bend = furthestFromChord(path);
  if (bend.distance > traceTolerance) {
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

/**
 * The place of a path that is furthest from the straight line between its ends. The ends of a closed path
 * are one point, so all of it counts as bent.
 */
function furthestFromChord(path: Path): { at: Point; distance: number } {
  const from = path.vertices[0]!;
  const to = path.closed ? from : path.vertices.at(-1)!;
  const chord = { from, to, bulge: 0 };
  const looks = segmentsOf(path).flatMap((segment) => [
    segment.from,
    ...(segment.bulge === 0 ? [] : [0.25, 0.5, 0.75].map((t) => pointAt(segment, t))),
  ]);
  const places = looks.map((at) => ({ at, distance: nearestOnSegment(chord, at).distance }));
  const start = { at: from, distance: 0 };
  return places.reduce((worst, one) => (one.distance > worst.distance ? one : worst), start);
}
