import type { Path } from '../geometry/path.ts';
import { pathLength, pathOf, segmentsOf } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { stretchOf } from '../geometry/stretch.ts';
import type { Move } from './moves.ts';

/** Where the swivel axis stands and which way the knife looks, degrees, unwrapped. */
export interface KnifeState {
  readonly at: Point;
  readonly deg: number;
}

/** The moves that cut one path, from travel height back to travel height. */
export interface CutMoves {
  readonly moves: readonly Move[];
  readonly after: KnifeState;
}

/**
 * Turns smaller than this (degrees) are left to the stroke that follows: below what three decimals
 * of a heading on a millimetre of cut can tell.
 */
export const negligibleTurnDeg = 0.01;

/** The way of the tip: a closed contour goes on past its start by `overlap` mm, once round at most. */
export function tipPath(path: Path, overlap: number): Path {
  if (!path.closed) return path;
  const again = Math.min(overlap, pathLength(path));
  const closing = again > 0 ? segmentsOf(stretchOf(path, 0, again)) : [];
  return pathOf([...segmentsOf(path), ...closing], false);
}
