import { rounded } from '../base/numbers.ts';
import { mirrorFit } from '../geometry/fitting/mirror.ts';
import { unionBox } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { transformPath } from '../geometry/paths/transform.ts';
import { pathData } from '../papers/svg/svg.ts';
import type { Piece } from '../pattern/piece.ts';
import type { BoxView } from './box-view.ts';
import { extentOf } from './box-view.ts';

/** Another piece that may be the other half of a pair, as the mirror image of a piece lies on it. */
export interface OtherHalf {
  readonly other: string;
  /** How far the image is from it at most, mm. */
  readonly off: number;
  /** SVG path data in mm, in the frame of the other's block. */
  readonly outline: string;
  readonly image: string;
  /** minX, minY, maxX, maxY of both, mm. */
  readonly box: BoxView;
}

/** Two halves that differ by more than this (mm) are two pieces. */
const mostOff = 5;

/** The pieces of a set whose outline is, nearly, the mirror image of that of a piece: the best first. */
export function otherHalves(pieces: readonly Piece[], name: string): OtherHalf[] {
  const piece = pieces.find((one) => one.name === name);
  if (piece === undefined || piece.other !== null) return [];
  return pieces
    .filter((one) => one !== piece && one.other === null)
    .flatMap((other): OtherHalf[] => {
      const fit = mirrorFit(piece.outline, other.outline, mostOff);
      if (fit === null) return [];
      const image = transformPath(fit.motion, piece.outline);
      const box = unionBox(boxOfPath(image), boxOfPath(other.outline));
      return [
        {
          other: other.name,
          off: rounded(fit.off, 2),
          outline: pathData(other.outline),
          image: pathData(image),
          box: extentOf(box),
        },
      ];
    })
    .toSorted((a, b) => a.off - b.off);
}
