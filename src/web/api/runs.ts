import { z } from 'zod';
/** What `compare` finds between two runs. */
export interface RunComparison {
  readonly equal: boolean;
  readonly lines: readonly {
    readonly what: string;
    readonly where: string;
    readonly words: string;
  }[];
  /** Pictures of both runs over each other, as SVG. */
  readonly pictures: readonly string[];
}

/** Two runs that are to be compared. */
export const comparedRunsSchema = z.strictObject({ before: z.string(), after: z.string() });
