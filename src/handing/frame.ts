import { headingDeg, normalDeg } from '../geometry/paths/angle.ts';
import { minus } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import {
  compose,
  reflection,
  rotation,
  transformPath,
  transformPoint,
  translation,
} from '../geometry/paths/transform.ts';
import { rounded } from '../base/numbers.ts';
import { rememberedFor } from '../base/remembered.ts';
import type { Piece } from '../pattern/piece.ts';
import { forwardDeg } from '../pattern/pile.ts';

/** The mirror in the vehicle's centreline, in the vehicle's frame: x across to the right, y forward. */
export const centrelineMirror: Transform = reflection({ x: 0, y: 0 }, 90);

/**
 * The transform from the frame of a piece's block to that of the vehicle. An AXIS line is the vehicle's
 * centreline: it is turned to point forward and moved to x = 0. Without one the block's x already points
 * across the vehicle. At last the piece is moved by the `at` of the set file.
 */
export function vehicleFrame({ axis, entry }: Pick<Piece, 'axis' | 'entry'>): Transform {
  const at = translation({ x: entry.at[0], y: entry.at[1] });
  if (axis === null) return at;
  const upright = rotation(90 - forwardDeg(axis));
  const foot = transformPoint(upright, axis.from);
  return compose(at, compose(translation({ x: -foot.x, y: 0 }), upright));
}

/** The outline of a piece as drawn, in the frame of the vehicle. */
export const outlineInVehicle = rememberedFor((piece: Piece) =>
  transformPath(vehicleFrame(piece), piece.outline),
);

/**
 * The direction in which the pile leans in the vehicle, degrees counter-clockwise from its right; null if
 * none is drawn. No hand mirrors it. It is rounded to a billionth, so that drawing a piece anew does not
 * change it.
 */
export function pileInVehicle(piece: Pick<Piece, 'axis' | 'entry' | 'pile'>): number | null {
  if (piece.pile === null) return null;
  const frame = vehicleFrame(piece);
  const { from, to } = piece.pile;
  const heading = headingDeg(minus(transformPoint(frame, to), transformPoint(frame, from)));
  return normalDeg(rounded(heading, 9));
}
