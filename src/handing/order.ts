import { z } from 'zod';
import { longestName, shortText } from '../base/names.ts';
import { hands } from '../pattern/words.ts';

const id = z
  .string()
  .regex(
    /^[A-Za-z0-9]+(-[A-Za-z0-9]+)*$/,
    'letters and digits joined by single hyphens, in quotes if it is a number',
  )
  .max(longestName, `at most ${longestName} letters go into the names of files`);

/** An order: a number of sets of one vehicle, for one hand of drive, with options. */
export const orderSchema = z.strictObject({
  order: id.describe('what the shop calls this order'),
  set: z.string().min(1).describe('folder beside the run file'),
  hand: z.enum(hands),
  quantity: z.number().int().min(1).max(500).default(1),
  heelPads: z.enum(['driver', 'both', 'none']).default('driver'),
  boards: z.boolean().default(true),
  underlay: z.boolean().default(true),
  binding: shortText.optional().describe('colour of the tape'),
});

export type Order = z.infer<typeof orderSchema>;
