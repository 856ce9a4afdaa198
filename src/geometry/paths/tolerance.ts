/** Tolerances that the whole product shares, in mm, each with its reason. */

/**
 * Two points nearer to each other than this are one point: it is a thousandth of the finest step a cutter
 * makes.
 */
export const samePoint = 1e-6;

/** Where a path must be flattened, the straight pieces may be this far from the curve. */
export const chordError = 0.05;

/**
 * An arc that rises less than this over its chord counts as straight. Its centre would be so far away
 * that doubles could not place it within samePoint, and no cutter would show the difference.
 */
export const flatArc = 1e-4;
