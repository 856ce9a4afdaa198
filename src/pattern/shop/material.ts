import { join } from 'node:path';
import { z } from 'zod';
import { longestName, plainName, shortText, titleText } from '../../base/names.ts';
import type { Finding, Place } from '../../base/findings.ts';
import { Refusal, refuseErrors } from '../../base/findings.ts';
import { readNamed } from '../../base/named-file.ts';
import { priceSchema } from './price.ts';
import type { Use } from '../words.ts';
import { turnings } from '../words.ts';

/** What a roll or sheet is for. The most expensive kind comes first. */
const materialKinds = ['carpet', 'underlay', 'board', 'rubber'] as const;

/** No slit may be deeper, mm: it would be a cut into the part, and nothing could hide it. */
export const deepestNotch = 30;

export const notchSchema = z.number().positive().max(deepestNotch);

const mm = z.number().nonnegative();

/** Outward allowance in mm from the net outline to the cut line, by what happens to the edge. */
const allowances = z.strictObject({ bound: mm, seam: mm, tuck: mm, turned: mm, raw: mm });

/**
 * How a pad, board or underlay is fixed to its carpet, and how a carpet's turned and wrapped edges are held, in the
 * words of the bench.
 */
export const fixedSchema = shortText.describe(
  'how it is fixed to its carpet, or how turned edges of a carpet are held: glued, sewn, stapled ...; loose: not at all',
);

/** The word for what is not fixed to its carpet and leaves the bench by itself. */
export const loose = 'loose';

/** One colour in which a material is kept. */
const colourSchema = z.strictObject({
  sample: z
    .string()
    .regex(/^#[0-9a-f]{6}$/i, 'a sample is written like "#6b1f2a": red, green and blue')
    .describe('how pictures show it, like "#6b1f2a"'),
  price: priceSchema.optional().describe('of a metre, where it is not that of the material'),
});

/** shared/materials/<name>.yaml: what one kind of roll or sheet is, wherever it is used. */
export const materialSchema = z.strictObject({
  title: titleText,
  kind: z.enum(materialKinds),
  thickness: z.number().positive().max(40).describe('mm'),
  fixed: fixedSchema.optional(),
  turns: z
    .enum(turnings)
    .describe('one-way pile: no turn; two-way: half turns; any: quarter turns'),
  gap: mm.max(50).describe('mm between two parts'),
  roll: z.strictObject({
    width: z.number().positive().max(6000).describe('mm, full width'),
    selvedge: mm.max(500).describe('mm at each edge that must not be used'),
    startMargin: mm.max(2000).describe('mm at the start of the roll that must not be used'),
    length: z.number().positive().optional().describe('mm on the roll; left out: enough'),
  }),
  price: priceSchema.optional().describe('of a metre of the roll, like "24.50 EUR"'),
  colours: z
    .record(plainName.max(longestName, `at most ${longestName} letters`), colourSchema)
    .refine((colours) => Object.keys(colours).length > 0, 'name at least one colour')
    .optional()
    .describe('those it is kept in; an order names one. Left out: it has no colours'),
  allowances,
  bridge: mm
    .max(200)
    .default(0)
    .describe('mm that must be left between a cutout and an edge or another cutout'),
  punch: mm.max(200).default(0).describe('mm, the smallest hole that can be made'),
  notchDepth: notchSchema.describe('mm, slit from the cut edge inwards'),
  mitreLimit: z
    .number()
    .min(1)
    .max(10)
    .default(2)
    .describe('longest corner as a multiple of the allowance'),
});

type MaterialContent = z.infer<typeof materialSchema>;
export type Material = MaterialContent & { readonly name: string };

/** All materials that the pieces, pads, boards and underlays of a set name, by name. */
export type Materials = ReadonlyMap<string, Material>;

/** The kinds of material that each use may be cut from. */
const kindsOfUse: Readonly<Record<Use, readonly Material['kind'][]>> = {
  carpet: ['carpet'],
  pad: ['rubber', 'carpet'],
  board: ['board'],
  underlay: ['underlay'],
};

/** Whether an order may choose a material for a use. */
export function fitsUse({ kind }: Material, use: Use): boolean {
  return kindsOfUse[use].includes(kind);
}

/** The material of that name. It must have been read: otherwise throws RangeError. */
export function materialOf(materials: Materials, name: string): Material {
  const material = materials.get(name);
  if (material === undefined) throw new RangeError(`material ${name} was not read`);
  return material;
}

/** Reads shared/materials/<name>.yaml. `namedAt` is the place that names it. Throws a Refusal. */
function readMaterial(sharedFolder: string, name: string, namedAt: Place): Material {
  const folder = join(sharedFolder, 'materials');
  return { name, ...readNamed(folder, name, materialSchema, 'material', namedAt).value };
}

/**
 * Reads the materials with these names; each comes with the place that names it. The carpet comes first.
 * Throws a Refusal that lists all that cannot be read.
 */
export function readMaterials(
  places: ReadonlyMap<string, Place>,
  sharedFolder: string,
): Map<string, Material> {
  const { materials, findings } = readKnownMaterials(places, sharedFolder);
  refuseErrors(findings);
  return materials;
}

/** Reads materials as readMaterials does, those that can be read; findings say what is wrong with others. */
export function readKnownMaterials(
  places: ReadonlyMap<string, Place>,
  sharedFolder: string,
): { materials: Map<string, Material>; findings: Finding[] } {
  const findings: Finding[] = [];
  const read = [...places.keys()].sort().flatMap((name): Material[] => {
    try {
      return [readMaterial(sharedFolder, name, places.get(name)!)];
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      findings.push(...error.findings);
      return [];
    }
  });
  const rank = ({ kind }: Material): number => materialKinds.indexOf(kind);
  const sorted = read.toSorted((a, b) => rank(a) - rank(b));
  return { materials: new Map(sorted.map((one) => [one.name, one])), findings };
}
