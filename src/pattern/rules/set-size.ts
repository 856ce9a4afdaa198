import type { Finding } from '../../base/findings.ts';
import { decimal } from '../../base/numbers.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { heightOf, widthOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { pieceWarning } from '../findings.ts';
import type { Piece } from '../piece.ts';

/** In any set of vehicle carpet one piece is longer than this, mm. */
const leastLargest = 150;

/**
 * Rule: the largest piece of a set has the size of carpet. A small one alone may be that small, but where all are
 * the drawing was most often read in the wrong units.
 */
export function checkSetSize(pieces: readonly Piece[]): Finding[] {
  const sized = pieces.map((piece) => ({ piece, box: boxOfPath(piece.outline) }));
  const longer = ({ box }: { box: Box }): number => Math.max(widthOf(box), heightOf(box));
  const [first] = sized.toSorted((a, b) => longer(b) - longer(a));
  if (first === undefined || pieces.length === 1 || longer(first) >= leastLargest) return [];
  const { piece, box } = first;
  const size = (factor: number): string =>
    `${decimal(widthOf(box) * factor, 0)} by ${decimal(heightOf(box) * factor, 0)} mm`;
  const message = `the largest piece of the set is ${size(1)}; if the drawing is in inches, it is ${size(25.4)}.`;
  const todo =
    'Check the units of the drawing with a tape: a drawing read in the wrong units is begun anew.';
  return [pieceWarning(piece, { rule: 'implausible-size', message, todo })];
}
