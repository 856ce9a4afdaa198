import { headingDeg, headingOf, normalDeg } from '../geometry/paths/angle.ts';
import { decimal } from '../base/numbers.ts';
import { centreOf, heightOf, widthOf } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import type { Path } from '../geometry/paths/path.ts';
import { minus, plus, times } from '../geometry/paths/point.ts';
import type { DrawnLine } from './feature.ts';
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

/** A line that rises by no more than this is level in spite of rounding, degrees. */
const roundingDeg = 0.01;

/**
 * The direction of an AXIS line that points forward, in degrees: the one of its two directions that
 * points upwards on the drawing. A level line points as it was drawn; a rule asks about it.
 */
export function forwardDeg(axis: DrawnLine): number {
  const deg = headingDeg(minus(axis.to, axis.from));
  return deg < -roundingDeg && deg > roundingDeg - 180 ? deg + 180 : deg;
}

/** An AXIS that is no steeper than this (degrees) does not show which of its ends is the front. */
const flat = 1;

/** Whether an AXIS lies level on the drawing, so that it does not show where the front is. */
export function isLevel(axis: DrawnLine): boolean {
  const deg = Math.abs(headingDeg(minus(axis.to, axis.from)));
  return deg <= flat || 180 - deg <= flat;
}

/** Half the length of a PILE line that stands for what a set file says, as a share of the piece. */
const statedShare = 0.15;

/**
 * The PILE line of a piece on which none is drawn, as the set file states it: through the middle of the
 * outline, in the frame of the block. `axis` is the vehicle's centreline in that frame; null: the block's
 * x points to the vehicle's right and its y forward.
 */
export function statedPile(outline: Path, pile: PileEntry, axis: DrawnLine | null): DrawnLine {
  const turned = axis === null ? 0 : forwardDeg(axis) - 90;
  const box = boxOfPath(outline);
  const reach = statedShare * Math.min(widthOf(box), heightOf(box));
  const along = times(headingOf(pileDegOf(pile) + turned), reach);
  const middle = centreOf(box);
  return { from: minus(middle, along), to: plus(middle, along) };
}
