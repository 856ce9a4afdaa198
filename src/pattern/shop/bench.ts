import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { readYaml } from '../../base/yaml.ts';
import { priceSchema } from './price.ts';

const minutes = z.number().min(0).max(600);

/** shared/bench.yaml: what work at the bench costs, and how long it takes. */
export const benchSchema = z.strictObject({
  price: priceSchema.describe('of an hour, like "32.00 EUR"'),
  minutes: z
    .strictObject({
      bind: minutes.describe('for a metre of edge that is bound'),
      overlock: minutes.optional().describe('for a metre of edge; as bind if left out'),
      sew: minutes.describe('for a metre of seam or stitch line'),
      pad: minutes.describe('for a heel pad'),
      board: minutes.describe('for a carpet that is fixed to its board'),
    })
    .describe('minutes that each work takes'),
});

export type Bench = z.infer<typeof benchSchema>;

/** The file in which a shop says what its bench costs. */
export function benchFile(sharedFolder: string): string {
  return join(sharedFolder, 'bench.yaml');
}

/** Reads shared/bench.yaml. null: the shop has none, and work at the bench is not charged. Throws a Refusal. */
export function readBench(sharedFolder: string): Bench | null {
  const file = benchFile(sharedFolder);
  return existsSync(file) ? readYaml(file, benchSchema, 'bench file').value : null;
}
