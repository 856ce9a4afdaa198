import type { Part } from '../handing/part.ts';
import { decimal } from '../base/numbers.ts';
import { clothName } from '../pattern/shop/cloth.ts';
import type { Turns } from '../pattern/words.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { compose, rotation, translation } from '../geometry/paths/transform.ts';
import type { Point } from '../geometry/paths/point.ts';
import { normalDeg, turnDeg } from '../geometry/paths/angle.ts';

/**
 * A roll. The frame of a lay on it: x along the roll from its start, y across it from one edge of the
 * full width, seen with the pile up. The pile leans towards +x. Lengths in mm.
 */
export interface Roll {
  /** Full width. */
  readonly width: number;
  /** Width of the strip at each edge that must not be used. */
  readonly selvedge: number;
  /** Length of the strip at the start that must not be used. */
  readonly startMargin: number;
  /** Length left on the roll. Infinity: nobody said, so it is taken to be enough. */
  readonly length: number;
  /** Its name among the rolls of the same material in a run. */
  readonly name?: string;
  /** The colour of its material. Left out: the material is kept in none. */
  readonly colour?: string;
  readonly dyeLot?: string;
  /** Polygons that no part may touch. */
  readonly defects?: readonly (readonly Point[])[];
  /** The polygon that all parts must lie in, if the roll is a remnant. */
  readonly outline?: readonly Point[];
}

/** The rules by which parts are laid. */
export interface LayRules {
  readonly turns: Turns;
  /** Least distance between two parts, mm, kept exactly. It is not kept to the edges of the roll. */
  readonly gap: number;
  /** Length of the machine's bed, mm: the most that can be cut between two feeds. Infinity: there is no bed. */
  readonly biteLength: number;
  /**
   * A part longer than the bed is cut in two passes that overlap by this many mm. Left out: such parts
   * are refused.
   */
  readonly joinOverlap?: number;
}

/** Where a part lies: its contour is turned counter-clockwise about its own origin, then moved by (x, y), mm. */
export interface Placement {
  readonly label: string;
  readonly x: number;
  readonly y: number;
  /** Degrees, in [0, 360). */
  readonly rotation: number;
}

/** Parts on one roll, with their places. */
export interface Lay {
  readonly material: string;
  readonly roll: Roll;
  readonly rules: LayRules;
  readonly placements: readonly Placement[];
  /** From the roll's start to the far edge of the last part, mm. */
  readonly length: number;
  /**
   * The area of the parts (cut contours without their cutouts) as a share of length times usable width.
   */
  readonly density: number;
}

/** The name that the files of a lay begin with. */
export function layName({ material, roll }: Pick<Lay, 'material' | 'roll'>): string {
  const cloth = clothName(material, roll.colour);
  return roll.name === undefined ? cloth : `${cloth}-${roll.name}`;
}

/** The width between the selvedges, mm. */
export function usableWidth(roll: Roll): number {
  return roll.width - 2 * roll.selvedge;
}

/** Takes points from the part's own frame to the lay's. */
export function placementTransform({ x, y, rotation: deg }: Placement): Transform {
  return compose(translation({ x, y }), rotation(deg));
}

/** The fields of a part that say how it may be turned. */
export type Lie = Pick<Part, 'pileDeg' | 'turns' | 'tilt'>;

/**
 * The turns in which a part may lie (degrees counter-clockwise about its origin): as the part says,
 * otherwise as its material says.
 */
export function allowedRotations({ pileDeg, turns: own }: Lie, turns: Turns): number[] {
  const pile = pileDeg ?? 0;
  const steps = { 'one-way': [0], 'two-way': [0, 180], any: [0, 90, 180, 270] }[own ?? turns];
  return steps.map((step) => normalDeg(step - pile));
}

/**
 * The turns that a search tries: each allowed one, and that one tilted to either side by half of the
 * part's `tilt` and by all of it.
 */
export function triedRotations(lie: Lie, turns: Turns): number[] {
  const tilts = (lie.tilt ?? 0) > 0 ? [0, 0.5, -0.5, 1, -1].map((share) => share * lie.tilt!) : [0];
  return allowedRotations(lie, turns).flatMap((deg) => tilts.map((tilt) => normalDeg(deg + tilt)));
}

/** Whether a part may lie at a turn, with `tolerance` degrees to spare. */
export function mayTurn(lie: Lie, turns: Turns, rotationDeg: number, tolerance: number): boolean {
  const most = (lie.tilt ?? 0) + tolerance;
  return allowedRotations(lie, turns).some((deg) => Math.abs(turnDeg(deg, rotationDeg)) <= most);
}

/** The allowed turns in words, for a message that goes on: "0, 180, or up to 3 aside". */
export function turnsInWords(lie: Lie, turns: Turns): string {
  const allowed = allowedRotations(lie, turns).map((deg) => decimal(deg, 2));
  const aside = (lie.tilt ?? 0) > 0 ? `, or up to ${decimal(lie.tilt!, 2)} aside` : '';
  return allowed.join(', ') + aside;
}
