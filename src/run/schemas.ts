import { z } from 'zod';
import { cutterSchema } from '../knife/cutter.ts';
import { benchSchema } from '../pattern/shop/bench.ts';
import { bindingSchema } from '../pattern/shop/binding.ts';
import { layerFileSchema } from '../pattern/layers.ts';
import { customerSchema } from '../pattern/shop/customer.ts';
import { materialSchema } from '../pattern/shop/material.ts';
import { setSchema } from '../pattern/set-file.ts';
import { labelStockSchema } from '../pattern/shop/label-stock.ts';
import { runFileSchema, stockSchema } from './run-file.ts';

/** The JSON Schemas of the YAML files that people write, by file name. Their editors use them. */
export function jsonSchemas(): Map<string, string> {
  const schemas = {
    run: runFileSchema,
    rolls: stockSchema,
    set: setSchema,
    material: materialSchema,
    binding: bindingSchema,
    bench: benchSchema,
    cutter: cutterSchema,
    layers: layerFileSchema,
    customer: customerSchema,
    labels: labelStockSchema,
  };
  return new Map(
    Object.entries(schemas).map(([name, schema]) => {
      const json = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' });
      return [
        `${name}.schema.json`,
        `${JSON.stringify({ title: `pileway ${name} file`, ...json }, null, 2)}\n`,
      ];
    }),
  );
}
