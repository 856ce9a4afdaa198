import type { Box } from '../../geometry/paths/box.ts';
import { traceTolerance } from '../../pattern/edges.ts';
import type { Piece } from '../../pattern/piece.ts';
import type { Side } from '../../pattern/words.ts';

/** The side of the vehicle on which a box lies wholly. null: across the middle. `box`: in the vehicle's frame. */
export function sideOfBox({ minX, maxX }: Box): Side | null {
  if (maxX <= traceTolerance) return 'left';
  return minX >= -traceTolerance ? 'right' : null;
}

/** Whether the set file or the drawing says where a piece lies across the vehicle. */
export function isPlaced({ entry, axis }: Pick<Piece, 'entry' | 'axis'>): boolean {
  return entry.at[0] !== 0 || axis !== null;
}
