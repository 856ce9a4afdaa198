import { headingDeg, normalDeg } from '../geometry/paths/angle.ts';
import { minus } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import {
  compose,
  reflection,
  rotation,
  transformPoint,
  translation,
} from '../geometry/paths/transform.ts';
import { rounded } from '../base/numbers.ts';
import type { Piece } from '../pattern/piece.ts';

/** The mirror in the vehicle's centreline, in the vehicle's frame: x across to the right, y forward. */
export const centrelineMirror: Transform = reflection({ x: 0, y: 0 }, 90);

/**
 * From a piece's block to the vehicle. An AXIS line is the vehicle's centreline: it is turned to point
 * forward and put on x = 0. Without one the block's x runs across the vehicle already. `at` moves it last.
 */
export function vehicleFrame({ axis, sheet }: Pick<Piece, 'axis' | 'sheet'>): Transform {
  const at = translation({ x: sheet.at[0], y: sheet.at[1] });
  if (axis === null) return at;
  const upright = rotation(90 - forwardDeg(axis));
  const foot = transformPoint(upright, axis.from);
  return compose(at, compose(translation({ x: -foot.x, y: 0 }), upright));
}

/** A centreline drawn backwards is the same line: the direction within a quarter turn of +y is forward. */
function forwardDeg(axis: NonNullable<Piece['axis']>): number {
  const deg = headingDeg(minus(axis.to, axis.from));
  return deg < 0 ? deg + 180 : deg;
}

/**
 * Where the pile leans in the vehicle, degrees counter-clockwise from its right, to a billionth, so
 * that drawing a piece anew does not change it; null where none is drawn. The frame carries it over,
 * and no hand mirrors it.
 */
export function pileInVehicle(piece: Pick<Piece, 'axis' | 'sheet' | 'pile'>): number | null {
  if (piece.pile === null) return null;
  const frame = vehicleFrame(piece);
  const { from, to } = piece.pile;
  const heading = headingDeg(minus(transformPoint(frame, to), transformPoint(frame, from)));
  return normalDeg(rounded(heading, 9));
}
