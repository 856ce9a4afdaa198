import { basename, dirname, join } from 'node:path';
import { z } from 'zod';
import { refuse } from './findings.ts';
import { orderSchema } from './handing/order.ts';
import { defaultEffort } from './lay/lay-parts.ts';
import type { Roll } from './lay/lay.ts';
import type { Material } from './pattern/material.ts';
import type { YamlFile } from './yaml.ts';
import { readYaml } from './yaml.ts';

/** What is known of the roll that is loaded; what is left out is as the material file says. */
const rollSchema = z.strictObject({
  width: z.number().positive().max(6000).optional().describe('mm, full width as measured'),
  selvedge: z.number().min(0).max(500).optional().describe('mm at each edge'),
  startMargin: z.number().min(0).max(2000).optional().describe('mm at the start'),
  length: z.number().positive().optional().describe('mm left on the roll'),
  dyeLot: z.string().min(1).optional(),
});

/** patterns/<run>.yaml: orders that are cut together. */
export const runSchema = z.strictObject({
  title: z.string().min(1),
  cutter: z.string().min(1).describe('a profile in shared/cutters'),
  seed: z.number().int().min(0).default(1).describe('another seed searches another way'),
  effort: z
    .number()
    .int()
    .min(1)
    .max(1e9)
    .default(defaultEffort)
    .describe('rounds of moves in the search for a lay'),
  orders: z.array(orderSchema).min(1),
  rolls: z.record(z.string(), rollSchema).default({}).describe('by material'),
});

export type RollSheet = z.infer<typeof rollSchema>;

export interface Run extends z.infer<typeof runSchema> {
  /** The run file's name without its ending. */
  readonly name: string;
  readonly file: string;
  /** Line and column of a value of the file. */
  readonly placeOf: YamlFile<unknown>['placeOf'];
}

/** Reads a run file. Throws a Refusal, also where two orders have one name. */
export function readRun(file: string): Run {
  const { value, placeOf } = readYaml(file, runSchema, 'run file');
  for (const [i, { order }] of value.orders.entries()) {
    if (value.orders.findIndex((other) => other.order === order) === i) continue;
    refuse(
      'same-order',
      `order "${order}" is there twice.`,
      'Give each order a name of its own, or raise its quantity.',
      placeOf(['orders', i, 'order']),
    );
  }
  return { ...value, name: basename(file).replace(/\.ya?ml$/, ''), file, placeOf };
}

/** Sets lie beside the run file. */
export function setFolder(run: Run, set: string): string {
  return join(dirname(run.file), set);
}

/** The roll of a material in this run. */
export function rollOf(run: Run, { name, roll }: Material): Roll {
  const sheet: RollSheet = run.rolls[name] ?? {};
  return {
    width: sheet.width ?? roll.width,
    selvedge: sheet.selvedge ?? roll.selvedge,
    startMargin: sheet.startMargin ?? roll.startMargin,
    length: sheet.length ?? roll.length ?? Infinity,
  };
}
