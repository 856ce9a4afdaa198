/** The trade's words that sets, orders and parts share. */
import type { Role } from './layers.ts';

/** Which side the driver sits on. */
export const hands = ['RHD', 'LHD'] as const;
export type Hand = (typeof hands)[number];

/** The sides of the vehicle, as seen by somebody who sits in it. */
export const sides = ['left', 'right'] as const;
export type Side = (typeof sides)[number];

/**
 * What happens to an edge at the bench: it is taped over (bound), sewn to another piece (seam), tucked
 * under something in the vehicle, turned (folded back onto the piece's own back), or cut and left as it
 * is (raw).
 */
export const edgeKinds = ['bound', 'seam', 'tuck', 'turned', 'raw'] as const;
export type EdgeKind = (typeof edgeKinds)[number];

/**
 * How a part may be turned on the roll from the direction of the pile: not at all, by half turns, or by
 * quarter turns.
 */
export const turnings = ['one-way', 'two-way', 'any'] as const;
export type Turns = (typeof turnings)[number];

export function otherSide(side: Side): Side {
  return side === 'left' ? 'right' : 'left';
}

export function otherHand(hand: Hand): Hand {
  return hand === 'RHD' ? 'LHD' : 'RHD';
}

/** The side on which the driver sits. */
export function driverSide(hand: Hand): Side {
  return hand === 'RHD' ? 'right' : 'left';
}

/** What the parts of a set are used as; an order chooses a material for each. */
export const uses = ['carpet', 'pad', 'board', 'underlay'] as const;
export type Use = (typeof uses)[number];

export function isUse(word: string): word is Use {
  return uses.includes(word as Use);
}

/** What is where it is whoever drives: nothing of it goes with a person or a side of the vehicle. */
const followsNobody: ReadonlySet<Role> = new Set(['OUTLINE', 'PILE', 'AXIS', 'NOTE']);

/** Whether what a layer means can go with a person or a side of the vehicle. */
export function canFollow(role: Role): boolean {
  return !followsNobody.has(role);
}
