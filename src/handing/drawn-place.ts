import type { Point } from '../geometry/paths/point.ts';
import { compose, inverse, transformPoint } from '../geometry/paths/transform.ts';
import type { Piece } from '../pattern/piece.ts';
import { centrelineMirror, vehicleFrame } from './frame.ts';

/**
 * A place on a part, in the frame of the vehicle, taken to the frame of the block that draws its piece.
 * `mirrored`: the part is the mirror image of what is drawn.
 */
export function placeInDrawing(piece: Piece, mirrored: boolean, at: Point): Point {
  const toBlock = inverse(vehicleFrame(piece));
  return transformPoint(mirrored ? compose(toBlock, centrelineMirror) : toBlock, at);
}
