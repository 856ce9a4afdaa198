import { z } from 'zod';
import type { Matter } from '../../compare/ranks.ts';
import type { OverlaySheet } from '../../papers/pictures/compare/overlay-rows.ts';

/** What `compare` finds between two runs. */
export interface RunComparison {
  /** What matters most, in one sentence. */
  readonly sentence: string;
  /** What was not compared, and lays that take the same as before: in sentences. */
  readonly notes: readonly string[];
  readonly equal: boolean;
  /** How many differences there are; lines tell several that are alike as one. */
  readonly count: number;
  /** The differences by what they matter for, the gravest first. */
  readonly groups: readonly {
    readonly matter: Matter;
    readonly heading: string;
    readonly count: number;
    readonly lines: readonly ComparedLine[];
  }[];
  /** Both runs over each other, sheet by sheet. */
  readonly sheets: readonly OverlaySheet[];
  /** A sheet of paper (SVG) with rings and close-ups; null: there is nothing to show. */
  readonly paper: string | null;
}

/** Differences that are alike. */
export interface ComparedLine {
  readonly what: string;
  readonly where: string;
  readonly words: string;
}

/** Two runs that are to be compared. */
export const comparedRunsSchema = z.strictObject({ before: z.string(), after: z.string() });

/** A run that is put away, or taken back. */
export const archiveWishSchema = z.strictObject({
  away: z.boolean().describe('false: it stands among the others again'),
});

/** Orders of runs that are to be cut together, as a run of their own. */
export const gatherWishSchema = z.strictObject({
  title: z.string().min(1),
  name: z.string().describe('what the new run file is called'),
  cutter: z.string(),
  orders: z
    .array(z.strictObject({ run: z.string(), order: z.string() }))
    .min(1)
    .describe('they leave their runs'),
});

export type GatherWish = Readonly<z.infer<typeof gatherWishSchema>>;

/** What became of the runs that orders were taken from. */
export interface Gathered {
  readonly name: string;
  /** Runs that have no order left, and were put away as they were. */
  readonly emptied: readonly string[];
}

/** What is seen of a run from afar. It takes longer to find than a card, so it comes after it. */
export interface RunGlance {
  /** Of its longest lay; null: nothing is laid. */
  readonly picture: LayGlance | null;
  /** How many parts lie on no roll, by the run file; null: it is not known, or there is no run file. */
  readonly unlaid: number | null;
  /** What was changed since its files were made, as `changedSince` says it. */
  readonly changes: readonly string[];
}

/** A lay in little, mm. */
export interface LayGlance {
  readonly length: number;
  readonly width: number;
  readonly parts: readonly {
    /** Which of the run's orders it is of, counted from 0. */
    readonly order: number;
    /** An x and a y of each corner, in whole cm. */
    readonly corners: readonly number[];
  }[];
}
