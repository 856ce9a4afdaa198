import { join } from 'node:path';
import { z } from 'zod';
import type { Place } from '../findings.ts';
import { readNamed } from '../named-file.ts';

const size = z.number().positive();
const turn = z.number().min(1).max(180);

const tangential = z.strictObject({
  kind: z.literal('tangential'),
  axis: z
    .strictObject({
      letter: z.enum(['A', 'B', 'C']),
      feed: size.describe('degrees/min of the knife turned on the spot'),
    })
    .describe('that turns the knife'),
  liftAboveDeg: turn.describe('turns sharper than this are made with the knife up'),
  oscillation: z
    .strictObject({
      dwell: z.number().nonnegative().max(30).describe('seconds to wait once it is switched on'),
    })
    .optional()
    .describe('left out: the knife does not oscillate'),
});

const trailing = z.strictObject({
  kind: z.literal('trailing'),
  offset: size.max(30).describe('mm from the swivel axis back to the tip'),
  swivelAboveDeg: turn.describe('turns sharper than this are made at swivelDepth'),
  swivelDepth: z
    .number()
    .describe('Z of the tip while it swivels in a corner, mm: in the material, but shallow'),
});

const programLine = z
  .string()
  .max(80)
  .regex(/^[\x20-\x7e]*$/, 'expected plain letters, digits and signs on one line');

const sheet = z.strictObject({
  title: z.string().min(1),
  bed: z.strictObject({
    length: size.describe('along the roll'),
    width: size.describe('across it'),
    overrun: z
      .number()
      .nonnegative()
      .max(200)
      .describe('mm that the knife’s axis may go past the bed on every side'),
  }),
  knife: z.discriminatedUnion('kind', [tangential, trailing]),
  blade: z.strictObject({
    width: size.max(50).describe('along the cut'),
    smallestRadius: z
      .number()
      .nonnegative()
      .describe('tighter inner contours are left to the bench'),
  }),
  heights: z.strictObject({
    travel: size.max(200).describe('Z with the knife clear of the material'),
    cut: z.number().min(-10).max(0).describe('Z of the tip while cutting, at or below the bed'),
  }),
  feeds: z.strictObject({
    cut: size.describe('mm/min'),
    plunge: size.describe('mm/min'),
    travel: size.describe('mm/min, for the time estimate alone'),
  }),
  closingOverlap: z
    .number()
    .nonnegative()
    .max(20)
    .describe('mm cut again past the start of a closed contour'),
  program: z.strictObject({
    decimals: z.number().int().min(3).max(5),
    before: z.array(programLine).describe('lines after the opening block'),
    after: z.array(programLine).describe('lines before M2'),
  }),
});

/** shared/cutters/<name>.yaml: one machine, in mm and mm/min; Z is up, 0 on the bed. */
export const cutterSchema = sheet.superRefine(agree);

/** The same with the name of its file, as a run keeps it. */
export const namedCutterSchema = z
  .strictObject({ name: z.string().min(1), ...sheet.shape })
  .superRefine(agree);

export type CutterSheet = z.infer<typeof cutterSchema>;
export type Cutter = CutterSheet & { readonly name: string };
export type TangentialKnife = z.infer<typeof tangential>;
export type TrailingKnife = z.infer<typeof trailing>;

/** Reads shared/cutters/<name>.yaml; `namedAt` is what asks for it. Throws a Refusal. */
export function readCutter(sharedFolder: string, name: string, namedAt: Place = {}): Cutter {
  const folder = join(sharedFolder, 'cutters');
  return { name, ...readNamed(folder, name, cutterSchema, 'cutter profile', namedAt) };
}

/** Says which values fit alone but not together; those of a tangential knife the schema bounds whole. */
function agree({ bed, knife, heights }: z.infer<typeof sheet>, context: z.RefinementCtx): void {
  if (knife.kind !== 'trailing') return;
  const object = (path: string[], message: string): void =>
    context.addIssue({ code: 'custom', path, message });
  if (knife.swivelDepth <= heights.cut || knife.swivelDepth >= heights.travel) {
    object(
      ['knife', 'swivelDepth'],
      `expected more than heights.cut (${heights.cut}) and less than heights.travel (${heights.travel})`,
    );
  }
  if (bed.overrun < knife.offset) {
    object(
      ['bed', 'overrun'],
      `expected at least knife.offset (${knife.offset}), by which the axis runs ahead of the tip at the bed’s edge`,
    );
  }
}
