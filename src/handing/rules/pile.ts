import type { Finding } from '../../base/findings.ts';
import { turnDeg } from '../../geometry/paths/angle.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import { materialOf } from '../../pattern/shop/material.ts';
import { pileDegOf, pileTolerance, wordPile } from '../../pattern/pile.ts';
import type { SetContent } from '../../pattern/set-file.ts';
import { partError } from '../findings.ts';
import type { Part } from '../part.ts';

/** What to do about a piece for which nothing says which way the pile runs. */
export const pileAnswer =
  'Draw a PILE line in the piece, from tail to head. Or say "pile:" for the set, and with "front: top" that the front of the vehicle is at the top of the piece as it is drawn; "at:", where the piece lies in the vehicle, says that too. Of the set, both hold for all pieces.';

/**
 * Rule: a part that may not be turned freely has a pile direction, and it is the one that the set file
 * states for the set or the piece.
 */
export function checkPile(part: Part, content: SetContent, materials: Materials): Finding[] {
  const { turns, title } = materialOf(materials, part.material);
  if ((part.turns ?? turns) === 'any') return [];
  if (part.pileDeg === null) {
    const message = `nothing says which way the pile runs, and ${title} may not be turned freely.`;
    const todo = pileAnswer;
    return [partError(part, { rule: 'no-pile', message, todo })];
  }
  const said = content.pieces[part.piece]?.pile ?? content.pile;
  if (said === undefined) return [];
  const wanted = pileDegOf(said);
  if (Math.abs(turnDeg(wanted, part.pileDeg)) <= pileTolerance) return [];
  const message = `the PILE line leans ${wordPile(part.pileDeg)} in the vehicle, and the set file says ${wordPile(wanted)}.`;
  const todo =
    'Turn the line about, tail to head, or give the piece a "pile:" of its own in the set file.';
  return [partError(part, { rule: 'pile-direction', message, todo })];
}
