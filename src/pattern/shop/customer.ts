import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { readYaml } from '../../base/yaml.ts';
import { layerFileSchema } from '../layers.ts';

/**
 * What the drawings of one customer have in common: whoever drew them names layers in the same way each
 * time.
 */
export const customerSchema = z.strictObject({
  layers: layerFileSchema
    .optional()
    .describe('layers of drawings by this customer: before what shared/layers.yaml says of them'),
});

/** The file of a customer, whether or not it is there. */
export function customerFile(sharedFolder: string, name: string): string {
  return join(sharedFolder, 'customers', `${name}.yaml`);
}

/**
 * What layers mean in the drawings of a customer. A customer without a file has no layers yet. Throws a
 * Refusal if the file cannot be read.
 */
export function readCustomerLayers(
  sharedFolder: string,
  name: string | undefined,
): Readonly<Record<string, string>> {
  if (name === undefined) return {};
  const file = customerFile(sharedFolder, name);
  if (!existsSync(file)) return {};
  return readYaml(file, customerSchema, 'customer file').value.layers ?? {};
}
