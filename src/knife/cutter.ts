import { join } from 'node:path';
import { z } from 'zod';
import { titleText } from '../base/names.ts';
import type { DeepReadonly } from '../base/deep-readonly.ts';
import type { Place } from '../base/findings.ts';
import { readNamed } from '../base/named-file.ts';
import { priceSchema } from '../pattern/shop/price.ts';
import type { YamlFile } from '../base/yaml.ts';

const size = z.number().positive();
const speed = size.max(300_000);
const turn = z.number().min(1).max(180);
const lean = z.number().min(0).max(60).default(0);

const tangential = z.strictObject({
  kind: z.literal('tangential'),
  axis: z
    .strictObject({
      letter: z.enum(['A', 'B', 'C']),
      feed: speed.describe('degrees/min of the knife turned on the spot'),
      acceleration: size.describe('degrees/s2, for the time estimate alone'),
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
  leadIn: size
    .max(300)
    .optional()
    .describe(
      'mm cut straight in waste to turn the knife at the start of a program and after a feed, at least 7 offsets; left out: the operator turns it',
    ),
});

const blade = z.strictObject({
  width: size.max(50).describe('along the cut'),
  smallestRadius: z
    .number()
    .nonnegative()
    .describe('tighter curves are cut in lifted steps, left to the bench or only warned of'),
  leanFrontDeg: lean.describe('of the front edge from upright, the tip behind it'),
  leanRearDeg: lean.describe('of the rear edge from upright, the tip ahead of it'),
});

const notches = z
  .discriminatedUnion('cut', [
    z.strictObject({ cut: z.literal('slit') }),
    z.strictObject({
      cut: z.literal('v'),
      width: size.max(30).describe('mm along the edge'),
    }),
    z.strictObject({ cut: z.literal('mark') }),
  ])
  .describe('slit: one stroke; v: two strokes to its tip; mark: drawn, left to the bench');

const punch = z.strictObject({
  diameter: size.max(60).describe('mm of the holes it makes'),
  tolerance: z.number().nonnegative().max(2).describe('mm that a hole may differ'),
  offset: z
    .tuple([z.number().min(-300).max(300), z.number().min(-300).max(300)])
    .describe('mm from the knife’s axis to the punch, along and across'),
  word: z.enum(['M7', 'M8']).describe('works it; M9 lets go'),
  dwell: z.number().nonnegative().max(30).describe('seconds between the two'),
});

const programLine = z
  .string()
  .max(80)
  .regex(/^[\x20-\x7e]*$/, 'expected plain letters, digits and signs on one line');

const fields = z.strictObject({
  title: titleText,
  bed: z.strictObject({
    length: size.max(100_000).describe('along the roll'),
    width: size.max(10_000).describe('across it'),
    overrun: z
      .number()
      .nonnegative()
      .max(200)
      .describe('mm that the knife’s axis may go past the bed on every side'),
    joinOverlap: z
      .number()
      .min(2)
      .max(100)
      .optional()
      .describe(
        'mm cut by both passes where a part longer than the bed is cut in two; left out: such a part is refused',
      ),
  }),
  face: z
    .enum(['up', 'down'])
    .default('up')
    .describe('whether the material lies with its face up or down on the bed'),
  knife: z.discriminatedUnion('kind', [tangential, trailing]),
  blade,
  notches: notches.default({ cut: 'slit' }),
  punch: punch.optional().describe('left out: holes too tight for the knife are marked'),
  heights: z.strictObject({
    travel: size.max(200).describe('Z with the knife clear of the material'),
    cut: z.number().min(-10).max(0).describe('Z of the tip while cutting, at or below the bed'),
  }),
  feeds: z.strictObject({
    cut: speed.describe('mm/min'),
    plunge: speed.describe('mm/min'),
    travel: speed.describe('mm/min, for the time estimate alone'),
  }),
  motion: z
    .strictObject({
      acceleration: size.describe('mm/s2'),
      cornerJump: size.describe('mm/min by which the speed may change in an instant at a corner'),
    })
    .describe('of the gantry, for the time estimate alone'),
  closingOverlap: z
    .number()
    .nonnegative()
    .max(20)
    .describe('mm cut again past the start of a closed contour'),
  program: z.strictObject({
    units: z.enum(['mm', 'inch']).default('mm'),
    decimals: z.number().int().min(3).max(6).describe('at least 3 in mm, 4 in inches'),
    arcs: z
      .union([
        z.literal('exact'),
        z.strictObject({
          chordError: z
            .number()
            .min(0.002)
            .max(0.03)
            .describe('mm that a line may leave the arc it stands for'),
        }),
      ])
      .default('exact')
      .describe('G2 and G3, or short lines'),
    lineNumbers: z.boolean().default(false).describe('N10, N20 and so on before each line'),
    before: z.array(programLine).describe('lines after the opening block'),
    after: z.array(programLine).describe('lines before M2'),
  }),
  price: priceSchema.optional().describe('of an hour of cutting, like "45.00 EUR"'),
  dxf: z.enum(['r12', 'r2007']).default('r12').describe('flavour of the cutter’s drawing'),
});

/**
 * shared/cutters/<name>.yaml: one machine. Lengths in mm, feeds in mm/min. Z points up and is 0 on the
 * bed.
 */
export const cutterSchema = fields.superRefine(agree);

/** A cutter profile with the name of its file, as the record of a run keeps it. */
export const namedCutterSchema = z
  .strictObject({ name: z.string().min(1), ...fields.shape })
  .superRefine(agree);

type CutterContent = DeepReadonly<z.infer<typeof cutterSchema>>;
export type Cutter = CutterContent & { readonly name: string };
export type TangentialKnife = z.infer<typeof tangential>;
export type TrailingKnife = z.infer<typeof trailing>;

/** A cutter profile, and the places of its values in the file. */
export interface CutterFile {
  readonly cutter: Cutter;
  readonly placeOf: YamlFile<CutterContent>['placeOf'];
}

/** Reads shared/cutters/<name>.yaml. `namedAt` is the place that names it. Throws a Refusal. */
export function readCutter(sharedFolder: string, name: string, namedAt: Place = {}): CutterFile {
  const folder = join(sharedFolder, 'cutters');
  const { value, placeOf } = readNamed(folder, name, cutterSchema, 'cutter profile', namedAt);
  return { cutter: { name, ...value }, placeOf };
}

/** Adds an issue for values that are allowed by themselves but not together. */
function agree(fieldsRead: z.infer<typeof fields>, context: z.RefinementCtx): void {
  const { bed, knife, heights, program } = fieldsRead;
  const object = (path: string[], message: string): void =>
    context.addIssue({ code: 'custom', path, message });
  if (program.units === 'inch' && program.decimals < 4) {
    object(['program', 'decimals'], 'expected 4 to 6, since the program is in inches');
  }
  if (program.units === 'mm' && program.decimals > 5) {
    object(['program', 'decimals'], 'expected 3 to 5, since the program is in mm');
  }
  if (knife.kind !== 'trailing') return;
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
  if (knife.leadIn !== undefined && knife.leadIn < 7 * knife.offset) {
    object(
      ['knife', 'leadIn'],
      `expected at least 7 times knife.offset (${7 * knife.offset}): a shorter cut does not turn the knife true`,
    );
  }
}
