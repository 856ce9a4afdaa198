import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { readYaml } from '../../base/yaml.ts';
import { priceSchema } from './price.ts';

const minutes = z.number().min(0).max(600);

/** What the bench does to a part, as most shops go about it: what is flat first, what makes it stiff last. */
const usualSteps = ['bind', 'sew', 'turn', 'board', 'pad'] as const;
export type Work = (typeof usualSteps)[number];

/** shared/bench.yaml: in which order the bench works, what that costs, and how long it takes. */
export const benchSchema = z
  .strictObject({
    steps: z
      .array(z.enum(usualSteps))
      .refine(
        (steps) => steps.length === usualSteps.length && new Set(steps).size === steps.length,
        `name each of ${usualSteps.join(', ')} once`,
      )
      .optional()
      .describe('in which order a part is worked on; left out: bind, sew, turn, board, pad'),
    price: priceSchema.optional().describe('of an hour, like "32.00 EUR"'),
    minutes: z
      .strictObject({
        bind: minutes.describe('for a metre of edge that is bound'),
        overlock: minutes.optional().describe('for a metre of edge; as bind if left out'),
        sew: minutes.describe('for a metre of seam or stitch line'),
        pad: minutes.describe('for a heel pad'),
        board: minutes.describe('for a carpet that is fixed to its board'),
      })
      .optional()
      .describe('minutes that each work takes'),
  })
  .refine(({ price, minutes: own }) => (price === undefined) === (own === undefined), {
    path: ['price'],
    message: 'price and minutes go together',
  });

export type Bench = z.infer<typeof benchSchema>;

/** What an hour at the bench costs and how long each work takes. */
export type BenchRates = Pick<Required<Bench>, 'price' | 'minutes'>;

/** What work costs. null: the shop does not say it, and work at the bench is not charged. */
export function ratesOf(bench: Bench | null): BenchRates | null {
  if (bench?.price === undefined || bench.minutes === undefined) return null;
  return { price: bench.price, minutes: bench.minutes };
}

/** The works in the order in which the shop does them. */
export function worksOf(bench: Bench | null): readonly Work[] {
  return bench?.steps ?? usualSteps;
}

/** The file in which a shop says how its bench works and what that costs. */
export function benchFile(sharedFolder: string): string {
  return join(sharedFolder, 'bench.yaml');
}

/** Reads shared/bench.yaml. null: the shop has none. Throws a Refusal. */
export function readBench(sharedFolder: string): Bench | null {
  const file = benchFile(sharedFolder);
  return existsSync(file) ? readYaml(file, benchSchema, 'bench file').value : null;
}
