import { z } from 'zod';
import { noteText, plainName, shortText } from '../base/names.ts';
import { nameBound } from '../base/text-bounds.ts';
import { readYesNo } from '../base/yes-no.ts';
import { hands } from '../pattern/words.ts';

const id = z
  .string()
  .regex(
    /^[A-Za-z0-9]+(-[A-Za-z0-9]+)*$/,
    'letters and digits joined by single hyphens, in quotes if it is a number',
  )
  .max(nameBound.most, nameBound.why);

/** What is chosen for a use: a material, one of its colours, or both. */
const chosenSchema = z
  .strictObject({
    material: plainName.optional().describe('a file in shared/materials, instead of the usual one'),
    colour: shortText.optional().describe('one that the material is kept in'),
  })
  .describe('the material, and its colour');

/** How edges are finished. */
const edgeSchema = z.strictObject({
  finish: plainName.optional().describe('a file in shared/bindings, instead of that of the set'),
  colour: shortText.optional(),
});

const partNames = z.array(shortText.regex(/^[^\s,;]+$/, 'a name is one word')).min(1);

/** A day, like 2026-12-04. */
const day = z.iso.date('a day is written like 2026-12-04');

/** An option that is there or not may be said as yes or no, too: as in a table of orders. */
const optionValue = z.union([z.boolean(), shortText.transform((text) => readYesNo(text) ?? text)]);

/** An order: a number of sets of one vehicle, for one hand of drive, with options. */
export const orderSchema = z
  .strictObject({
    order: id.describe('what the shop calls this order'),
    set: z.string().min(1).describe('folder beside the run file'),
    hand: z.enum(hands),
    quantity: z.number().int().min(1).max(500).default(1),
    heelPads: z.enum(['driver', 'both', 'none']).default('driver'),
    boards: z.boolean().default(true),
    underlay: z
      .union([z.boolean(), chosenSchema])
      .default(true)
      .describe('whether it is wanted, or of what material'),
    binding: shortText.optional().describe('colour of the tape; the same as edge: { colour: ... }'),
    carpet: chosenSchema.optional(),
    pad: chosenSchema.optional(),
    board: chosenSchema.optional(),
    edge: edgeSchema.optional().describe('how edges are finished'),
    thread: shortText.optional().describe('colour of the stitch thread'),
    alone: partNames.optional().describe('pieces, groups or parts: nothing else is wanted'),
    without: partNames.optional().describe('pieces, groups or parts that are not wanted'),
    options: z
      .record(z.string(), optionValue)
      .optional()
      .describe('what the vehicle has, where it is not as the set says'),
    customer: shortText.optional().describe('name or number'),
    due: day.optional(),
    benchNote: noteText.optional().describe('for the bench, on the sewing sheet'),
    customerNote: noteText.optional().describe('for the customer, on the fitting sheet'),
  })
  .refine(({ binding, edge }) => binding === undefined || edge?.colour === undefined, {
    path: ['edge', 'colour'],
    message: 'it says what "binding" says too; keep one of them',
  });

export type Order = z.infer<typeof orderSchema>;
