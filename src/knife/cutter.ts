import { join } from 'node:path';
import { z } from 'zod';
import { readYaml } from '../yaml.ts';

const size = z.number().positive();

const knife = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('tangential'),
    liftAboveDeg: z
      .number()
      .min(1)
      .max(180)
      .describe('turns sharper than this are made with the knife up'),
    oscillating: z.boolean(),
  }),
  z.strictObject({
    kind: z.literal('trailing'),
    offset: z.number().positive().max(30).describe('mm from the swivel axis back to the tip'),
    swivelAboveDeg: z
      .number()
      .min(1)
      .max(180)
      .describe('turns sharper than this are made at swivelDepth'),
    swivelDepth: z.number().describe('Z of the tip while it swivels in a corner, mm'),
  }),
]);

/** shared/cutters/<name>.yaml: one machine, in mm, mm/min and degrees/min; Z is up, 0 on the bed. */
export const cutterSchema = z.strictObject({
  title: z.string().min(1),
  bed: z.strictObject({
    length: size.describe('along the roll'),
    width: size.describe('across it'),
  }),
  knife,
  blade: z.strictObject({
    width: size.max(50).describe('along the cut'),
    smallestRadius: z
      .number()
      .nonnegative()
      .describe('tighter inner contours are left to the bench'),
  }),
  heights: z.strictObject({
    travel: z.number().describe('Z with the knife clear of the material'),
    cut: z.number().describe('Z of the tip while cutting, at or below the bed'),
  }),
  feeds: z.strictObject({
    cut: size.describe('mm/min'),
    plunge: size.describe('mm/min'),
    turn: size.describe('degrees/min of the knife lifted and turned'),
    travel: size.describe('mm/min, for the time estimate alone'),
  }),
  closingOverlap: z
    .number()
    .nonnegative()
    .max(20)
    .describe('mm cut again past the start of a closed contour'),
  program: z.strictObject({
    decimals: z.number().int().min(3).max(5),
    axis: z.enum(['A', 'B', 'C']).describe('letter of the knife’s turning axis'),
    before: z.array(z.string()).describe('lines after the opening block'),
    after: z.array(z.string()).describe('lines before M2'),
  }),
});

export type CutterSheet = z.infer<typeof cutterSchema>;
export type Cutter = CutterSheet & { readonly name: string };

/** Reads shared/cutters/<name>.yaml. Throws a Refusal. */
export function readCutter(sharedFolder: string, name: string): Cutter {
  const file = join(sharedFolder, 'cutters', `${name}.yaml`);
  return { name, ...readYaml(file, cutterSchema, 'cutter profile').value };
}
