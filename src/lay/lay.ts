import type { Part } from '../handing/part.ts';
import { decimal } from '../base/numbers.ts';
import type { Turns } from '../pattern/words.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { compose, rotation, translation } from '../geometry/paths/transform.ts';
import type { Point } from '../geometry/paths/point.ts';
import { normalDeg, turnDeg } from '../geometry/paths/angle.ts';

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
  /** What tells it from other rolls of its material in a run. */
  readonly name?: string;
  readonly dyeLot?: string;
  /** Polygons that no part may touch. */
  readonly defects?: readonly (readonly Point[])[];
  /** Of a remnant: the polygon that all parts lie in. */
  readonly outline?: readonly Point[];
}

export type { Turns };

export interface LayRules {
  readonly turns: Turns;
  /** Least distance between two parts, mm; exact, not kept to the edges of the roll. */
  readonly gap: number;
  /** Length of the machine's bed, mm: what is cut between two feeds is no longer. Infinity: no bed. */
  readonly biteLength: number;
  /** mm cut by both passes where a part longer than that is cut in two; left out: no part is longer. */
  readonly joinOverlap?: number;
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

/** What files about a lay are called. */
export function layName({ material, roll }: Pick<Lay, 'material' | 'roll'>): string {
  return roll.name === undefined ? material : `${material}-${roll.name}`;
}

export function usableWidth(roll: Roll): number {
  return roll.width - 2 * roll.selvedge;
}

export function placementTransform({ x, y, rotation: deg }: Placement): Transform {
  return compose(translation({ x, y }), rotation(deg));
}

/** What of a part says how it may lie. */
export type Lie = Pick<Part, 'pileDeg' | 'turns' | 'tilt'>;

/** The turns (degrees, about the part's origin) that lay a part as it or its material allows. */
export function allowedRotations({ pileDeg, turns: own }: Lie, turns: Turns): number[] {
  const pile = pileDeg ?? 0;
  const steps = { 'one-way': [0], 'two-way': [0, 180], any: [0, 90, 180, 270] }[own ?? turns];
  return steps.map((step) => normalDeg(step - pile));
}

/** The turns that are tried: those allowed, and tilted by all of what a part may tilt and by half. */
export function triedRotations(lie: Lie, turns: Turns): number[] {
  const tilts = (lie.tilt ?? 0) > 0 ? [0, 0.5, -0.5, 1, -1].map((share) => share * lie.tilt!) : [0];
  return allowedRotations(lie, turns).flatMap((deg) => tilts.map((tilt) => normalDeg(deg + tilt)));
}

/** Whether a part may lie turned so, up to `tolerance` degrees. */
export function mayTurn(lie: Lie, turns: Turns, rotationDeg: number, tolerance: number): boolean {
  const most = (lie.tilt ?? 0) + tolerance;
  return allowedRotations(lie, turns).some((deg) => Math.abs(turnDeg(deg, rotationDeg)) <= most);
}

/** "0, 180 degrees, or up to 3 aside": the turns allowed, for a message. */
export function turnsInWords(lie: Lie, turns: Turns): string {
  const allowed = allowedRotations(lie, turns).map((deg) => decimal(deg, 2));
  const aside = (lie.tilt ?? 0) > 0 ? `, or up to ${decimal(lie.tilt!, 2)} aside` : '';
  return allowed.join(', ') + aside;
}
