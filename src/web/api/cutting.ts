import { z } from 'zod';
import type { CutStep, StepTick } from './cut-steps.ts';
import type { Refused } from './refused.ts';

/** How a roll is loaded and cut, as its papers say it. */
export interface RollWork {
  /** Which way the pile leans on the roll; null: the material has none. */
  readonly pile: 'one-way' | 'two-way' | 'any' | null;
  /** The face of the material, in words: `the pile`. */
  readonly side: string;
  readonly bites: readonly BiteWork[];
}

/** What is cut between two feeds, and how the roll is fed to it. Places are X and Y on the bed, mm. */
export interface BiteWork {
  /** How far the roll lies fed from its start, mm. */
  readonly start: number;
  /** How far it is fed before this bite, mm. */
  readonly feed: number;
  /** Labels of the parts that the program cuts here, in its order. */
  readonly labels: readonly string[];
  /** Where the cross of the bite before lies after the feed; null: there is none. */
  readonly check: readonly [number, number] | null;
  /** Where a cross is cut last, that marks the next feed; null: none is. */
  readonly mark: readonly [number, number] | null;
}

/** The machine that a run is cut on, as far as its operator must know. */
export interface MachineCard {
  readonly title: string;
  readonly face: 'up' | 'down';
  /** The knife and its blade, in words. */
  readonly knife: string;
  /** The length of the bed along the roll, mm. */
  readonly bed: number;
  /** Whether lengths are said in inches beside mm. */
  readonly inches: boolean;
}

/** What is ticked of a run folder. Where its marks cannot be read nothing is, and the findings say why. */
export interface SentMarks extends Refused {
  /** Of the files as they are now. */
  readonly ticks: readonly StepTick[];
  /** Of files made before, until these are begun anew. */
  readonly before: readonly StepTick[];
}

const fingerprint = z.string().describe('of the files that somebody looks at');

/** A step of a roll that is ticked, or whose tick is taken back. */
export const stepWishSchema = z.strictObject({
  files: fingerprint,
  roll: z.string(),
  step: z.string().transform((word) => word as CutStep),
});

export type StepWish = Readonly<z.input<typeof stepWishSchema>>;

/** The cutting of files that is begun with nothing ticked. */
export const beginCuttingSchema = z.strictObject({ files: fingerprint });
