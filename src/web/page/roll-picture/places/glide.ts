import type { PartOnRoll } from './placing.ts';
import { placeBetween, placePart, samePlace } from './placing.ts';

/** ms that parts take to their new places. */
export const glideTime = 200;
/** More parts than these are not watched one by one. */
const mostGliding = 500;

/** Whether parts go from lay to lay in sight: some have moved and there are not too many. */
export function canGlide(from: readonly PartOnRoll[], to: readonly PartOnRoll[]): boolean {
  if (from.length === 0 || to.length === 0 || to.length > mostGliding) return false;
  const places = placesOf(from);
  return to.some(({ part, place }) => {
    const old = places.get(part.label);
    return old !== undefined && !samePlace(old, place);
  });
}

/** The lay that is shown when `share` (0 to 1) of the time is over; parts that were not there stand still. */
export function gliding(
  from: readonly PartOnRoll[],
  to: readonly PartOnRoll[],
  share: number,
): readonly PartOnRoll[] {
  const places = placesOf(from);
  const eased = eases(share);
  return to.map((one) => {
    const old = places.get(one.part.label);
    if (old === undefined || samePlace(old, one.place)) return one;
    return placePart(one.part, placeBetween(old, one.place, eased));
  });
}

/** Fast at first, slow at the end. */
export function eases(share: number): number {
  return 1 - (1 - share) ** 3;
}

function placesOf(placed: readonly PartOnRoll[]): Map<string, PartOnRoll['place']> {
  return new Map(placed.map(({ part, place }) => [part.label, place]));
}
