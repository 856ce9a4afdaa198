import { basename, dirname, join } from 'node:path';
import { parseDocument } from 'yaml';
import { z } from 'zod';
import { refuse } from '../base/findings.ts';
import { plainName, shortText, titleText } from '../base/names.ts';
import { nameBound } from '../base/text-bounds.ts';
import type { Order } from '../handing/order.ts';
import { orderSchema } from '../handing/order.ts';
import { defaultEffort } from '../lay/lay-parts.ts';
import { areaOf } from '../geometry/paths/area.ts';
import { boxOfPoints, boxesOverlap } from '../geometry/paths/box.ts';
import { selfCrossings } from '../geometry/relations/crossings.ts';
import type { Path } from '../geometry/paths/path.ts';
import { polyline } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Roll } from '../lay/lay.ts';
import { pieceName } from '../pattern/set-file.ts';
import type { Cloth } from '../pattern/shop/cloth.ts';
import type { Material } from '../pattern/shop/material.ts';
import type { YamlFile } from '../base/yaml.ts';
import { readText, readYaml } from '../base/yaml.ts';
import { readOrdersCsv } from './orders-csv.ts';

const polygon = z
  .array(z.tuple([z.number(), z.number()]))
  .min(3)
  .refine((corners) => areaOf(contourOf(corners)) > 0, 'a polygon has an area')
  .refine(
    (corners) => selfCrossings(contourOf(corners)).length === 0,
    'the sides of a polygon do not cross',
  );

function contourOf(corners: readonly (readonly [number, number])[]): Path {
  return polyline(
    corners.map(([x, y]) => ({ x, y })),
    true,
  );
}

/** A part, and the place where it must lie. */
export const pinSchema = z.strictObject({
  part: z.string().min(1).describe('its label'),
  at: z.tuple([z.number(), z.number()]).describe('mm along and across the roll'),
  rotation: z.number().min(0).max(360).default(0).describe('degrees'),
});

/** What is known of a roll that is loaded. What is left out is taken from the material file. */
export const rollSchema = z.strictObject({
  width: z.number().positive().max(6000).optional().describe('mm, full width as measured'),
  selvedge: z.number().min(0).max(500).optional().describe('mm at each edge'),
  startMargin: z.number().min(0).max(2000).optional().describe('mm at the start'),
  length: z.number().positive().optional().describe('mm left on the roll'),
  colour: plainName
    .optional()
    .describe('one that the material is kept in; needed if it is kept in any'),
  dyeLot: shortText.optional(),
  name: z
    .string()
    .regex(/^[A-Za-z0-9]+(-[A-Za-z0-9]+)*$/, 'letters and digits joined by single hyphens')
    .max(nameBound.most, nameBound.why)
    .optional()
    .describe('what files about it are called by, where there are several'),
  defects: z.array(polygon).default([]).describe('what no part may touch: mm along and across'),
  outline: polygon.optional().describe('of a remnant that is no oblong: mm along and across'),
  pins: z.array(pinSchema).default([]).describe('parts that lie where they are told'),
  laid: z
    .array(pinSchema)
    .default([])
    .describe('parts that a search has laid: they lie so again and are not searched for'),
});

const rollsByMaterial = z
  .record(pieceName, z.union([rollSchema, z.array(rollSchema).min(1)]))
  .describe('by material: a roll, or several');

/** shared/rolls.yaml: the rolls and remnants of the shop. They are written as in a run file. */
export const stockSchema = z.strictObject({ rolls: rollsByMaterial });

/** The schema of patterns/<run>.yaml: orders that are cut together. */
export const runSchema = z.strictObject({
  title: titleText,
  cutter: z.string().min(1).describe('a profile in shared/cutters'),
  seed: z.number().int().min(0).default(1).describe('another seed searches another way'),
  effort: z
    .number()
    .int()
    .min(1)
    .max(1e9)
    .default(defaultEffort)
    .describe('rounds of moves in the search for a lay'),
  labels: z
    .string()
    .min(1)
    .optional()
    .describe('a sheet of labels in shared/labels; left out: ten on A4'),
  inches: z.boolean().default(false).describe('papers say inches beside mm'),
  orders: z.array(orderSchema).min(1),
  rolls: rollsByMaterial.default({}),
});

/** A file of orders beside the run file. */
const csvName = z
  .string()
  .regex(/^[^/\\]+\.csv$/, 'a file of orders lies beside the run file and ends in .csv')
  .describe('a CSV beside the run file, with an order a line');

/** The schema of patterns/<run>.yaml as it is written: its orders may stand in a CSV. */
export const runFileSchema = runSchema.extend({
  orders: z.union([runSchema.shape.orders, csvName]),
});

export type RunContent = z.infer<typeof runSchema>;
export type RollEntry = z.infer<typeof rollSchema>;
export type Pin = z.infer<typeof pinSchema>;

export interface RunFile extends z.infer<typeof runSchema> {
  /** The run file's name without its ending. */
  readonly name: string;
  readonly file: string;
  /** The CSV that the orders were read from. Left out: they stand in the run file. */
  readonly ordersFile?: string;
  /** Finds the line and column of a value in the file, or that of an order in its CSV. */
  readonly placeOf: YamlFile<unknown>['placeOf'];
}

/**
 * Reads a run file. Throws a Refusal if it does not fit its schema, or if two orders or two rolls have
 * one name.
 */
export function readRun(file: string): RunFile {
  const { value, placeOf } = readYaml(file, runFileSchema, 'run file');
  const read = withOrders(value, file, placeOf);
  refuseSameNames(read, read.placeOf);
  return { ...read, name: basename(file).replace(/\.ya?ml$/, ''), file };
}

/** What a run file says, with the orders of its CSV if it names one. */
function withOrders(
  { orders, ...others }: z.infer<typeof runFileSchema>,
  file: string,
  placeOf: RunFile['placeOf'],
): RunContent & Pick<RunFile, 'ordersFile' | 'placeOf'> {
  if (typeof orders !== 'string') return { ...others, orders, placeOf };
  const ordersFile = join(dirname(file), orders);
  const table = readOrdersCsv(ordersFile);
  return {
    ...others,
    orders: [...table.orders],
    ordersFile,
    placeOf: (path) => {
      const [first, i, ...keys] = path;
      return first === 'orders' && typeof i === 'number' ? table.placeOf(i, keys) : placeOf(path);
    },
  };
}

/** The CSV that a run file names for its orders; null where it names none or is no run file. */
export function ordersFileOf(file: string): string | null {
  const text = readText(file, 'run file');
  // A run that is laid is long, and most name no CSV: it is parsed only where it may.
  const orders: unknown = text.includes('.csv') ? parseDocument(text).get('orders') : undefined;
  return csvName.safeParse(orders).success ? join(dirname(file), String(orders)) : null;
}

/** Refuses two orders of the same name, and two rolls of the same material and name. */
export function refuseSameNames({ orders, rolls }: RunContent, placeOf: RunFile['placeOf']): void {
  for (const [i, { order }] of orders.entries()) {
    const same = ({ order: other }: Order): boolean => other.toLowerCase() === order.toLowerCase();
    const first = orders.findIndex(same);
    if (first === i) continue;
    refuse(
      'same-order',
      orders[first]!.order === order
        ? `order "${order}" is there twice.`
        : `the orders "${orders[first]!.order}" and "${order}" differ by large and small letters alone.`,
      'Give each order a name of its own, or raise its quantity.',
      placeOf(['orders', i, 'order']),
    );
  }
  checkRollNames(rolls, placeOf);
}

/** Rolls by their material, and the places at which they are written. */
export type RollStock = Pick<RunFile, 'rolls' | 'placeOf'>;

/** Reads a file of rolls and remnants. Throws a Refusal as readRun does. */
export function readStock(file: string): RollStock {
  const { value, placeOf } = readYaml(file, stockSchema, 'file of rolls');
  checkRollNames(value.rolls, placeOf);
  return { rolls: value.rolls, placeOf };
}

/**
 * Refuses two rolls of the same material, colour and name.
 */
export function checkRollNames(rolls: RunContent['rolls'], placeOf: RunFile['placeOf']): void {
  for (const material of Object.keys(rolls)) {
    const written = entriesOf(rolls, material);
    const keys = written.map(({ entry, name = '' }) =>
      JSON.stringify([entry.colour, name.toLowerCase()]),
    );
    const again = keys.findIndex((key, i) => keys.indexOf(key) !== i);
    if (again === -1) continue;
    const { name, at } = written[again]!;
    refuse(
      'same-roll',
      `two rolls of ${material} are called "${name}".`,
      'Give each roll a name of its own.',
      placeOf(at),
    );
  }
}

/** The folder of a set: it lies beside the run file. */
export function setFolder(run: RunFile, set: string): string {
  return join(dirname(run.file), set);
}

/** A roll of a run, with the parts that already have a place on it. */
export interface LoadedRoll extends Roll {
  readonly pins: readonly Pin[];
  /** Parts that an earlier search has laid. */
  readonly laid: readonly Pin[];
}

/**
 * The rolls of a cloth in this run. Where several are written, each has a name: its own or a number. If none of the colour is written, it is one new roll, as
 * the material file has it. Throws a Refusal for a remnant that reaches past the edges or the start of its
 * roll, and for a defect that lies nowhere on it.
 */
export function rollsOf(stock: RollStock, { material, colour }: Cloth): LoadedRoll[] {
  const loaded = writtenRolls(stock, material).filter((roll) => roll.colour === colour);
  if (loaded.length > 0) return loaded;
  const fresh = rollSchema.parse(colour === undefined ? {} : { colour });
  return [rollOf(fresh, material, undefined)];
}

/** The rolls that are written for a material, in any colour. Throws a Refusal as rollsOf does. */
export function writtenRolls({ rolls, placeOf }: RollStock, material: Material): LoadedRoll[] {
  return entriesOf(rolls, material.name).map(({ entry, name, at }) =>
    checkedRoll(rollOf(entry, material, name), at, placeOf),
  );
}

/** A roll as it is written, the name that it has, and the way to it in the file. */
interface WrittenRoll {
  readonly entry: RollEntry;
  readonly name: string | undefined;
  readonly at: readonly (string | number)[];
}

/** The rolls that are written for a material. */
export function entriesOf(rolls: RunContent['rolls'], material: string): WrittenRoll[] {
  const at = ['rolls', material];
  const entries = Object.hasOwn(rolls, material) ? rolls[material]! : [];
  if (!Array.isArray(entries)) return [{ entry: entries, name: entries.name, at }];
  return entries.map((entry, i) => ({
    entry,
    name: entry.name ?? numberIn(entries, i),
    at: [...at, i],
  }));
}

/**
 * What a roll of a list is called that has no name: its number in the list, or among those of its colour.
 * undefined: it is the only one of its colour, which tells it from others.
 */
function numberIn(entries: readonly RollEntry[], i: number): string | undefined {
  const { colour } = entries[i]!;
  if (colour === undefined) return String(i + 1);
  const alike = entries.filter((one) => one.colour === colour);
  return alike.length === 1 ? undefined : String(alike.indexOf(entries[i]!) + 1);
}

/** What was measured with a tape may be wrong by this much, mm. */
const measured = 2;

/**
 * Returns the roll itself, or refuses it. This catches corners whose two numbers were exchanged, and
 * remnants or defects that were measured on a roll of another width.
 */
function checkedRoll(
  roll: LoadedRoll,
  at: readonly (string | number)[],
  placeOf: RunFile['placeOf'],
): LoadedRoll {
  const { width, length, outline, defects = [] } = roll;
  const todo =
    'A corner is how far along the roll from its start, then how far across it, both in mm. Correct it, or the width of the roll.';
  if (outline !== undefined) {
    const { minX, minY, maxY } = boxOfPoints(outline);
    if (minX < -measured || minY < -measured || maxY > width + measured) {
      const message = `the remnant lies from ${minY} to ${maxY} mm across and begins at ${minX} mm; the roll is ${width} mm wide and begins at 0.`;
      refuse('off-the-roll', message, todo, placeOf([...at, 'outline']));
    }
  }
  const whole = { minX: 0, minY: 0, maxX: length, maxY: width };
  for (const [k, defect] of defects.entries()) {
    const box = boxOfPoints(defect);
    if (boxesOverlap(box, whole)) continue;
    const message = `a defect lies from ${box.minX} to ${box.maxX} mm along and ${box.minY} to ${box.maxY} mm across: nowhere on a roll ${width} mm wide${length === Infinity ? '' : ` and ${length} mm long`}.`;
    refuse('off-the-roll', message, todo, placeOf([...at, 'defects', k]));
  }
  return roll;
}

function rollOf(entry: RollEntry, { roll }: Material, name: string | undefined): LoadedRoll {
  const point = ([x, y]: [number, number]): Point => ({ x, y });
  const outline = entry.outline?.map(point);
  const end = outline === undefined ? Infinity : Math.max(...outline.map(({ x }) => x));
  return {
    width: entry.width ?? roll.width,
    selvedge: entry.selvedge ?? roll.selvedge,
    startMargin: entry.startMargin ?? roll.startMargin,
    length: Math.min(entry.length ?? roll.length ?? Infinity, end),
    defects: entry.defects.map((corners) => corners.map(point)),
    pins: entry.pins,
    laid: entry.laid,
    ...(name === undefined ? {} : { name }),
    ...(entry.colour === undefined ? {} : { colour: entry.colour }),
    ...(entry.dyeLot === undefined ? {} : { dyeLot: entry.dyeLot }),
    ...(outline === undefined ? {} : { outline }),
  };
}
