import { normalDeg } from '../geometry/paths/angle.ts';
import { decimal } from '../base/numbers.ts';
import type { PieceEntry } from './set-file.ts';

/** A direction as a set file names it: a word or degrees. */
type PileEntry = NonNullable<PieceEntry['pile']>;

/** How many degrees two directions may differ before the pile looks different. */
export const pileTolerance = 2;

const words: Readonly<Record<Extract<PileEntry, string>, number>> = {
  right: 0,
  forward: 90,
  left: 180,
  rearward: 270,
};

/** A direction of the set file in degrees counter-clockwise from the vehicle's right, in [0, 360). */
export function pileDegOf(pile: PileEntry): number {
  return typeof pile === 'number' ? normalDeg(pile) : words[pile];
}

/** A direction in words: `rearward`, or the degrees if there is no word for it. */
export function wordPile(deg: number): string {
  const word = Object.entries(words).find(([, known]) => known === deg)?.[0];
  return word ?? `at ${decimal(deg, 1)} degrees`;
}
