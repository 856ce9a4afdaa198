import type { Finding } from '../../base/findings.ts';
import { listed } from '../../base/wording.ts';
import { turnDeg } from '../../geometry/paths/angle.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import { materialOf } from '../../pattern/shop/material.ts';
import { pileDegOf, pileTolerance, wordPile } from '../../pattern/pile.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { SetContent } from '../../pattern/set-file.ts';
import { partError } from '../findings.ts';
import { pileInVehicle } from '../frame.ts';
import type { Part } from '../part.ts';

/** What to do about a piece for which nothing says which way the pile runs. */
export const pileAnswer =
  'Draw a PILE line in the piece, from tail to head. Or say "pile:" for the set, and with "front: top" that the front of the vehicle is at the top of the piece as it is drawn; "at:", where the piece lies in the vehicle, says that too. Of the set, both hold for all pieces.';

/**
 * Rule: pieces of one material lean one way in the vehicle, or else they shade differently side by side. Where
 * the set file says which way, each is held against that instead.
 */
export function checkPilesAlike(
  { pieces, content, placeOf }: PatternSet,
  materials: Materials,
): Finding[] {
  if (content.pile !== undefined) return [];
  const leaning = pieces.flatMap((piece): Leaning[] => {
    const { entry, name } = piece;
    const { title, turns } = materialOf(materials, entry.material);
    const deg = pileInVehicle(piece);
    const isFree = entry.pile !== undefined || deg === null || (entry.turns ?? turns) === 'any';
    return isFree ? [] : [{ name, material: title, deg }];
  });
  return [...new Set(leaning.map(({ material }) => material))].flatMap((material): Finding[] => {
    const [first, ...rest] = leaning.filter((one) => one.material === material);
    const others = rest.filter(({ deg }) => Math.abs(turnDeg(first!.deg, deg)) > pileTolerance);
    if (others.length === 0) return [];
    const told = [first!, ...others].slice(0, 8);
    const words = told.map(({ name, deg }) => `${wordPile(deg)} on "${name}"`);
    return [
      {
        severity: 'warning',
        rule: 'piles-differ',
        message: `the pile of pieces cut from ${material} does not lean one way in the vehicle: it leans ${listed(words)}.`,
        todo: 'Say with "pile:" which way that of the set leans, and of each piece that is meant to lean otherwise; or turn a PILE line about.',
        where: placeOf(['pieces']),
      },
    ];
  });
}

/** A piece whose pile counts, and its direction in the vehicle, degrees. */
interface Leaning {
  readonly name: string;
  readonly material: string;
  readonly deg: number;
}

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
