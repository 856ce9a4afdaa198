/** Tolerances of the whole product, in mm unless named otherwise, each with its reason. */

/** Two coordinates nearer than this are one point: a thousandth of the finest step a cutter makes. */
export const samePoint = 1e-6;

/** How far a curve may be from the straight pieces that stand for it where paths must be flattened. */
export const chordError = 0.05;

/**
 * An arc that rises less than this over its chord counts as straight: its centre lies so far off
 * that doubles could no longer place it to samePoint, and no cutter would show the difference.
 */
export const flatArc = 1e-4;
