/**
 * Placements stand on a lattice of a millionth of the instance's unit, so that a file with six decimals
 * holds exactly the layout that was searched and proven.
 */
const perUnit = 1e6;

/** What sums and rotations of coordinates up to some ten thousand may be off, with room to spare. */
export const roundingNoise = 1e-9;

/** The lowest lattice value at or above. 12.000000000001 stays 12: it comes from a sum. */
export function latticeAbove(value: number): number {
  return Math.ceil((value - roundingNoise) * perUnit) / perUnit + 0;
}

/** The highest lattice value at or below. */
export function latticeBelow(value: number): number {
  return Math.floor((value + roundingNoise) * perUnit) / perUnit + 0;
}

/** The whole number that stands for a value on the lattice. */
export function latticeIndex(value: number): number {
  return Math.round(value * perUnit);
}
