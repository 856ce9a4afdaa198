import type { Refused } from './refused.ts';

/** Which orders of a run are cut from the same cloth, and in which order that is proposed. */
export interface Together extends Refused {
  readonly cloths: readonly SharedCloth[];
}

interface SharedCloth {
  readonly material: string;
  /** null: the material is kept in no colours. */
  readonly colour: string | null;
  readonly title: string;
  /** How pictures show the colour; null where there is none. */
  readonly sample: string | null;
  /** The orders that want parts of it: those that are best cut first come first. */
  readonly orders: readonly ProposedOrder[];
  /** mm of the roll that its parts would fill without any gap: fewer are never enough. */
  readonly least: number;
  /** mm on all its rolls together; null: it is said that there is enough. */
  readonly length: number | null;
}

export interface ProposedOrder {
  readonly order: string;
  /** null: no day is said. */
  readonly due: string | null;
  readonly parts: number;
  /** Why it comes where it comes, in words. */
  readonly why: string;
}
