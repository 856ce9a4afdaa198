import { pathCrossings } from '../geometry/relations/crossings.ts';
import { placeInPath } from '../geometry/relations/contains.ts';
import { polyline } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { distance } from '../geometry/paths/point.ts';
import type { DrawnLine } from './feature.ts';
import type { Piece } from './piece.ts';

/**
 * The part of the AXIS of a piece that lies on it, to be shown or pointed at: from where the line first
 * meets the outline to where it leaves it for good. An end inside the outline stays. A line that meets the
 * piece nowhere stays as it is drawn. null: there is no AXIS.
 */
export function axisOnPiece({ axis, outline }: Pick<Piece, 'axis' | 'outline'>): DrawnLine | null {
  if (axis === null) return null;
  const met = pathCrossings(outline, polyline([axis.from, axis.to], false));
  const nearest = (end: Point): Point =>
    placeInPath(outline, end) !== 'outside' || met.length === 0
      ? end
      : met.reduce((best, one) => (distance(one, end) < distance(best, end) ? one : best));
  return { from: nearest(axis.from), to: nearest(axis.to) };
}
