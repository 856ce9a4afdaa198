import type { Finding } from '../../base/findings.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import { materialOf } from '../../pattern/shop/material.ts';
import type { Piece } from '../../pattern/piece.ts';
import { pieceWarning } from '../../pattern/findings.ts';
import type { PatternSet } from '../../pattern/set.ts';
import { forwardDeg, isLevel } from '../../pattern/pile.ts';

/**
 * Rule: an AXIS that lies level on the drawing is told, with the end that is taken for the front: the
 * other one would put left and right about. Where a PILE line is held against what the set says of the
 * pile, that would have shown already.
 */
export function checkLevelAxis({ pieces, content }: PatternSet, materials: Materials): Finding[] {
  return pieces.flatMap((piece) => {
    const { axis, entry } = piece;
    if (axis === null || !isLevel(axis)) return [];
    const said = entry.pile ?? content.pile;
    if (isPileChecked(piece, materials) && said !== undefined) return [];
    const towards = Math.abs(forwardDeg(axis)) < 90 ? 'right' : 'left';
    const message = `the AXIS line lies level, so it does not show where the front is: the ${towards} end in the piece's drawing is taken for the front.`;
    const todo =
      'Turn the piece in its drawing so that its front points up; or draw a PILE line and say with "pile:" where it leans, and the two are compared.';
    return [pieceWarning(piece, { rule: 'axis-level', message, todo }, { at: axis.to })];
  });
}

/** Whether the pile of a piece counts, and is drawn: see checkPile. */
function isPileChecked({ pile, entry }: Piece, materials: Materials): boolean {
  return pile !== null && (entry.turns ?? materialOf(materials, entry.material).turns) !== 'any';
}
