import type { Part } from '../handing/part.ts';
import type { Transform } from '../geometry/transform.ts';
import { compose, rotation, translation } from '../geometry/transform.ts';
import { normalDeg } from '../geometry/angle.ts';

/**
 * Frame of a lay: x along the roll from its start, y across it from one edge of the full width,
 * seen with the pile up; the pile leans towards +x. Lengths in mm.
 */
export interface Roll {
  /** Full width. */
  readonly width: number;
  /** Strip at each edge that must not be used. */
  readonly selvedge: number;
  /** Strip at the start that must not be used. */
  readonly startMargin: number;
  /** Length on the roll; Infinity where it is said to be enough. */
  readonly length: number;
}

export type Turns = 'one-way' | 'two-way' | 'any';

export interface LayRules {
  readonly turns: Turns;
  /** Least distance between two parts, mm; exact, not kept to the edges of the roll. */
  readonly gap: number;
  /** Length of the machine's bed, mm: no part may cross a multiple of it. Infinity: no such lines. */
  readonly biteLength: number;
}

/** A part's contour is turned counter-clockwise about its own origin, then moved by (x, y). */
export interface Placement {
  readonly label: string;
  readonly x: number;
  readonly y: number;
  /** Degrees, in [0, 360). */
  readonly rotation: number;
}

export interface Lay {
  readonly material: string;
  readonly roll: Roll;
  readonly rules: LayRules;
  readonly placements: readonly Placement[];
  /** From the roll's start to the far edge of the last part, mm. */
  readonly length: number;
  /** Area of the cut contours less their cutouts, over length x usable width. */
  readonly density: number;
}

export function usableWidth(roll: Roll): number {
  return roll.width - 2 * roll.selvedge;
}

export function placementTransform({ x, y, rotation: deg }: Placement): Transform {
  return compose(translation({ x, y }), rotation(deg));
}

/** The turns (degrees, about the part's origin) that lay a part as its material allows. */
export function allowedRotations(part: Pick<Part, 'pileDeg'>, turns: Turns): number[] {
  const pile = part.pileDeg ?? 0;
  const steps = turns === 'one-way' ? [0] : turns === 'two-way' ? [0, 180] : [0, 90, 180, 270];
  return steps.map((step) => normalDeg(step - pile));
}
