import { join } from 'node:path';
import { z } from 'zod';
import { shortText, titleText } from '../../base/names.ts';
import type { Place } from '../../base/findings.ts';
import { readNamed } from '../../base/named-file.ts';
import { priceSchema } from './price.ts';

/** What is done to an edge that is finished: a tape is bound round it, or it is overlocked. */
const finishKinds = ['tape', 'overlock'] as const;
export type FinishKind = (typeof finishKinds)[number];

/** shared/bindings/<name>.yaml: how edges are finished, with a tape or otherwise. */
export const bindingSchema = z.strictObject({
  title: titleText,
  kind: z.enum(finishKinds).default('tape').describe('a tape is bound round the edge; or overlock'),
  colours: z.array(shortText).min(1).optional().describe('those it is kept in'),
  price: priceSchema.optional().describe('of a metre, like "0.85 EUR"'),
  width: z.number().positive().max(200).describe('mm, finished'),
  insideRadius: z
    .number()
    .min(0)
    .max(500)
    .describe('mm, the tightest inside curve that it goes round'),
  joining: z
    .number()
    .min(0)
    .max(1000)
    .default(250)
    .describe('mm more for each run, to begin it and to join its ends'),
  tightRadius: z.number().min(0).max(500).describe('mm, curves tighter than this need more tape'),
  tightExtra: z
    .number()
    .min(0)
    .max(1)
    .default(0.12)
    .describe('share of a tight curve’s length that is needed more'),
});

type BindingContent = z.infer<typeof bindingSchema>;
export type Binding = BindingContent & { readonly name: string };

/** Reads shared/bindings/<name>.yaml. `namedAt` is the place that names it. Throws a Refusal. */
export function readBinding(sharedFolder: string, name: string, namedAt: Place): Binding {
  const folder = join(sharedFolder, 'bindings');
  return { name, ...readNamed(folder, name, bindingSchema, 'binding', namedAt).value };
}
