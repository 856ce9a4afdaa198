import type { Refused } from './refused.ts';

/** Which orders of a run are cut from the same cloth, and in which order that is proposed. */
export interface Together extends Refused {
  /** Cloths that are needed first come first, those without any day last. */
  readonly cloths: readonly SharedCloth[];
  /** Orders that are not looked at, as the findings say why. */
  readonly left: readonly string[];
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
  /** What holds for all its orders, or explains what is said of them; empty where there is nothing to say. */
  readonly note: string;
  /** mm from the roll's start that are needed, however close its parts lie: fewer are never enough. */
  readonly least: number;
  /** mm on all its rolls together; null: it is said that there is enough. */
  readonly length: number | null;
}

export interface ProposedOrder {
  readonly order: string;
  /** null: no day is said. */
  readonly due: string | null;
  readonly parts: number;
  /** What tells it from the others of the cloth, in words; empty where nothing does. */
  readonly why: string;
}
