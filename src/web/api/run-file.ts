import { z } from 'zod';
import type { RunContent } from '../../run/run-file.ts';
import { runSchema } from '../../run/run-file.ts';

/** A run file as it stands on the disk. */
export interface SentRunFile {
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

/** A run file that is to be saved. */
export const savedRunSchema = z.strictObject({
  content: runSchema,
  version: z.string().nullable().describe('of the file that it was made from; null: a new run'),
});
