import { latticeIndex } from './lattice.ts';
import type { Intervals, SlicedTurn } from './slices.ts';
import { forbiddenShifts } from './slices.ts';

/** The dx at which one shape would overlap another, as open intervals. */
export interface Shifts {
  /**
   * Where in `list` the intervals begin at which `moving` would overlap `fixed` if its origin lay (dx, dy) from
   * the other's: low, high, low, high ..., rising. Infinity ends them.
   */
  readonly at: (fixed: SlicedTurn, moving: SlicedTurn, dy: number) => number;
  /** All intervals, in one array: as many small ones would keep the garbage collector busy. Read it after `at`. */
  list: Float64Array;
}

/** Works the answer out each time it is asked. */
export function newShifts(): Shifts {
  const shifts: Shifts = {
    list: new Float64Array(64),
    at: (fixed, moving, dy) => {
      write(shifts, 0, forbiddenShifts(fixed.slices, moving.slices, dy));
      return 0;
    },
  };
  return shifts;
}

/** So many answers are kept, some 20 MB. After that all are forgotten. */
const mostKept = 100_000;

/**
 * Works each answer out once and remembers it: the same shapes are mostly wanted many times, so nearly every
 * question comes again. `turns`: how many there are. `dy` must lie on the lattice.
 */
export function rememberedShifts(turns: number): Shifts {
  let kept = 0;
  let used = 0;
  // By pair of turns, then by dy as a lattice index: where the answer begins.
  const known: (Map<number, number> | undefined)[] = Array.from({ length: turns * turns });
  const shifts: Shifts = {
    list: new Float64Array(4096),
    at: (fixed, moving, dy) => {
      const pair = fixed.turn * turns + moving.turn;
      const height = latticeIndex(dy);
      const answer = known[pair]?.get(height);
      if (answer !== undefined) return answer;
      if (kept++ === mostKept) {
        kept = 1;
        used = 0;
        known.fill(undefined);
      }
      const at = used;
      used = write(shifts, at, forbiddenShifts(fixed.slices, moving.slices, dy));
      (known[pair] ??= new Map<number, number>()).set(height, at);
      return at;
    },
  };
  return shifts;
}

/** Writes intervals at a place of the list, which grows as needed. Returns where they end. */
function write(shifts: Shifts, at: number, intervals: Intervals): number {
  const end = at + intervals.length + 1;
  if (end > shifts.list.length) {
    const longer = new Float64Array(Math.max(end, 2 * shifts.list.length));
    longer.set(shifts.list);
    shifts.list = longer;
  }
  const { list } = shifts;
  // Not by `set`, which is slow for arrays that are no typed ones.
  for (let k = 0; k < intervals.length; k++) list[at + k] = intervals[k]!;
  list[end - 1] = Infinity;
  return end;
}
