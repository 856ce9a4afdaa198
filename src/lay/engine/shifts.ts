import { latticeIndex } from './lattice.ts';
import type { Intervals, SlicedTurn } from './slices.ts';
import { forbiddenShifts } from './slices.ts';

/** The dx at which `moving` would overlap `fixed` if its origin lay (dx, dy) from the other's. */
export type Shifts = (fixed: SlicedTurn, moving: SlicedTurn, dy: number) => Intervals;

/** Works the answer out each time it is asked. */
export const newShifts: Shifts = (fixed, moving, dy) =>
  forbiddenShifts(fixed.slices, moving.slices, dy);

/** So many answers are kept, some 20 MB. After that all are forgotten. */
const mostKept = 100_000;

/**
 * Works each answer out once and remembers it: the same shapes are mostly wanted many times, so nearly every
 * question comes again. `dy` must lie on the lattice.
 */
export function rememberedShifts(): Shifts {
  let kept = 0;
  let known = new Map<SlicedTurn, Map<SlicedTurn, Map<number, Intervals>>>();
  return (fixed, moving, dy) => {
    const height = latticeIndex(dy);
    const answer = known.get(fixed)?.get(moving)?.get(height);
    if (answer !== undefined) return answer;
    if (kept++ === mostKept) {
      kept = 1;
      known = new Map();
    }
    const intervals = forbiddenShifts(fixed.slices, moving.slices, dy);
    entry(entry(known, fixed), moving).set(height, intervals);
    return intervals;
  };
}

function entry<K, A, B>(map: Map<K, Map<A, B>>, key: K): Map<A, B> {
  const found = map.get(key) ?? new Map<A, B>();
  map.set(key, found);
  return found;
}
