import { z } from 'zod';

/** A paper of a run that can be printed. */
export interface RunPaper {
  /** The name of its PDF, without the ending. */
  readonly name: string;
  readonly what: 'sheet' | 'labels' | 'sewing' | 'fitting' | 'packing' | 'cost';
  /** The order that it is about; null: it is about the whole run. */
  readonly order: string | null;
  /** How many pages its PDF has, and how large they are, mm. */
  readonly pages: number;
  readonly width: number;
  readonly height: number;
}

/** What can be printed of a run. */
export interface RunPapers {
  readonly papers: readonly RunPaper[];
  /** All labels in the order in which they stand on their sheets. */
  readonly labels: readonly { readonly label: string; readonly order: string }[];
  /** The sheet of labels. */
  readonly labelSheet: { readonly title: string; readonly columns: number; readonly rows: number };
}

/** Names joined by commas, which no name has in it. */
const names = z.string().transform((text) => text.split(',').filter((name) => name !== ''));
const count = z
  .string()
  .regex(/^\d{1,5}$/, 'this is a whole number')
  .transform(Number);

/** What is to be printed in one, as it stands behind the question mark of an address. */
export const printWishSchema = z.strictObject({
  key: z.string().optional().describe('who asks; see the guard'),
  papers: names.describe('in the order in which they are printed'),
  labels: names
    .pipe(
      z.array(z.string().regex(/^\d{1,5}(-\d{1,5})?$/, 'this is a number, or two with a hyphen')),
    )
    .optional()
    .describe('numbers of labels from 1, like "3,7-9"; left out: all'),
  begin: count.default(0).describe('places of the first sheet of labels that are used already'),
  page: count.optional().describe('this page alone, from 1; left out: all'),
});

export type PrintWish = Omit<z.infer<typeof printWishSchema>, 'key'>;
