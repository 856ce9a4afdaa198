import { z } from 'zod';
import type { Matter } from '../../compare/what-matters.ts';
import type { OverlaySheet } from '../../papers/pictures/compare/overlay-rows.ts';

/** What `compare` finds between two runs. */
export interface RunComparison {
  /** What matters most, in one sentence. */
  readonly sentence: string;
  readonly equal: boolean;
  /** How many differences there are; lines tell several that are alike as one. */
  readonly count: number;
  /** The differences by what they matter for, the gravest first. */
  readonly groups: readonly {
    readonly matter: Matter;
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
