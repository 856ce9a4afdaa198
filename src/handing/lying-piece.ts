import { rememberedFor } from '../base/remembered.ts';
import type { Box } from '../geometry/paths/box.ts';
import { heightOf, widthOf } from '../geometry/paths/box.ts';
import type { MeasuredPath } from '../geometry/measuring/measured-path.ts';
import { measurePath } from '../geometry/measuring/measured-path.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { transformPath } from '../geometry/paths/transform.ts';
import { hasInside } from '../geometry/relations/measured-area.ts';
import type { Piece } from '../pattern/piece.ts';
import { outlineInVehicle } from './frame.ts';

/** A piece where it lies in the vehicle, for all that the set says. */
export interface LyingPiece {
  readonly name: string;
  readonly net: Path;
  readonly box: Box;
  readonly measured: () => MeasuredPath;
}

export const lyingPiece = rememberedFor((piece: Piece): LyingPiece =>
  lyingOutline(piece.name, outlineInVehicle(piece)),
);

/** The same piece after a motion in the vehicle. */
export function movedPiece({ name, net }: LyingPiece, motion: Transform): LyingPiece {
  return lyingOutline(name, transformPath(motion, net));
}

function lyingOutline(name: string, net: Path): LyingPiece {
  let measured: MeasuredPath | undefined;
  return { name, net, box: boxOfPath(net), measured: () => (measured ??= measurePath(net)) };
}

export function hasSpot(piece: LyingPiece, spot: Point): boolean {
  return hasInside(piece.measured(), spot);
}

/** The spots in a piece of those that lie evenly over a box: so many across, and along. */
export function spotsIn(piece: LyingPiece, box: Box, looks: number): Point[] {
  const share = (i: number): number => (i + 0.5) / looks;
  const spots = Array.from({ length: looks * looks }, (_, i) => ({
    x: box.minX + share(i % looks) * widthOf(box),
    y: box.minY + share(Math.floor(i / looks)) * heightOf(box),
  }));
  return spots.filter((spot) => hasSpot(piece, spot));
}
