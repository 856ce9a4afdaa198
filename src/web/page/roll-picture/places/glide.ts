import type { PartOnRoll } from './placing.ts';
import { placeBetween, placePart, samePlace } from './placing.ts';

/** How long parts take to glide to their new places, ms. */
export const glideTime = 200;
/** With more parts than this nobody watches them one by one. */
const mostGliding = 500;

/** Whether parts glide from one lay to the next: some have moved, and there are not too many. */
export function canGlide(from: readonly PartOnRoll[], to: readonly PartOnRoll[]): boolean {
  if (from.length === 0 || to.length === 0 || to.length > mostGliding) return false;
  const places = placesOf(from);
  return to.some(({ part, place }) => {
    const old = places.get(part.label);
    return old !== undefined && !samePlace(old, place);
  });
}

/**
 * The parts as they are shown when `share` (0 to 1) of the time is over. Parts that were not there
 * before stand still.
 */
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

/** The share of the way for a share of the time: fast at first, slow at the end. */
export function eases(share: number): number {
  return 1 - (1 - share) ** 3;
}

function placesOf(placed: readonly PartOnRoll[]): Map<string, PartOnRoll['place']> {
  return new Map(placed.map(({ part, place }) => [part.label, place]));
}
