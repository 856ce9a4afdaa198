import { z } from 'zod';
import type { RunContent } from '../../run/run-file.ts';
import { runSchema } from '../../run/run-file.ts';

/** A run file as it stands on the disk. */
export interface OpenedRun {
  readonly name: string;
  readonly content: RunContent;
  /** The CSV beside it that its orders are kept in; null: they stand in the run file. */
  readonly ordersFile: string | null;
  /**
   * Tells this text of the file, and of its CSV, from any other: whoever saves says which one it began
   * with.
   */
  readonly version: string;
}

/** A run file, and what can be taken back of it. */
export interface SentRunFile extends OpenedRun {
  /** What was done last, in words, and what would be done again; null: nothing. */
  readonly undo: string | null;
  readonly redo: string | null;
}

/** The version of a run file that somebody looks at. */
export const seenRunSchema = z.strictObject({ version: z.string() });

/** A run file that is to be saved. */
export const savedRunSchema = z.strictObject({
  content: runSchema,
  version: z.string().nullable().describe('of the file that it was made from; null: a new run'),
});
