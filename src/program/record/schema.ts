import { z } from 'zod';
import { orderSchema } from '../../handing/order.ts';
import { markRoles, partKinds } from '../../handing/part.ts';
import { namedCutterSchema } from '../../knife/cutter.ts';
import { labelStockSchema } from '../../pattern/shop/label-stock.ts';
import { materialSchema } from '../../pattern/shop/material.ts';
import { edgeKinds, hands, sides, turnings } from '../../pattern/words.ts';

/**
 * What run.json holds, said once: the reader checks a file against this, and every type of the record
 * is derived from it (run-record.ts). Lengths in mm, areas in mm2, angles in degrees; null where there
 * is nothing to say, so that every key is always there.
 */

const name = z.string().min(1);
const mm = z.number().nonnegative();
const point = z.tuple([z.number(), z.number()]);
/** x, y in mm and the bulge of the segment that begins there, each with at most six decimals. */
const vertex = z.tuple([z.number(), z.number(), z.number()]);
/** A closed contour, counter-clockwise; the first vertex is not repeated. */
const contour = z.array(vertex).min(2);
const polygon = z.array(point).min(3);

/** A part: all that the proof and a recut need to know of it, in the part's own frame. */
export const partRecordSchema = z.strictObject({
  label: name,
  name,
  piece: name,
  kind: z.enum(partKinds),
  /** null for a part of the middle. */
  side: z.enum(sides).nullable(),
  hand: z.enum(hands),
  order: name,
  set: z.number().int().positive(),
  material: name,
  /** Degrees counter-clockwise from +x; null without pile. */
  pileDeg: z.number().nullable(),
  /** How it may be turned on the roll; null: as its material says. */
  turns: z.enum(turnings).nullable(),
  /** Degrees by which it may lean aside. */
  tilt: mm,
  /** mm2 inside the net outline, cutouts not taken off. */
  netArea: mm,
  /** mm2 inside the cut contour, cutouts not taken off. */
  cutArea: mm,
  cutContour: contour,
  /** The outline as fitted; null: it is the cut contour. */
  netContour: contour.nullable(),
  inner: z.array(z.strictObject({ role: z.enum(['CUTOUT', 'HOLE']), contour })),
  /** Slits, each from the cut edge inwards. */
  notches: z.array(z.tuple([point, point])),
  /** What is shown and never cut: open or closed paths; a point is a path of one vertex. */
  marks: z.array(
    z.strictObject({
      role: z.enum(markRoles),
      closed: z.boolean(),
      path: z.array(vertex).min(1),
    }),
  ),
  /** mm of net outline for each kind of edge. */
  edges: z.strictObject({ bound: mm, seam: mm, tuck: mm, turned: mm, raw: mm }),
  /** The stretches of the net outline, in its direction. */
  stretches: z.array(
    z.strictObject({
      kind: z.enum(edgeKinds),
      name: name.nullable(),
      onShow: z.boolean(),
      path: contour,
    }),
  ),
  /** What happens to it once it is cut: a verb, and the rest of the words. */
  next: z.array(z.tuple([z.string(), z.string()])),
});

/** What a bite has beside its parts, in the frame of the lay as it lies on the bed. */
export const biteRecordSchema = z.strictObject({
  /** Where the bed begins, mm from the roll's start. */
  start: mm,
  /** The way of the swivel axis, from and to; null where the bite has no lead-in. */
  leadIn: z.tuple([point, point]).nullable(),
  /** Middle of the registration mark; null where there is none. */
  mark: point.nullable(),
});

export const layRecordSchema = z.strictObject({
  material: name,
  /** Its name among several rolls of the material; null where there is one. */
  roll: name.nullable(),
  dyeLot: name.nullable(),
  rollWidth: z.number().positive(),
  usableWidth: z.number().positive(),
  selvedge: mm,
  startMargin: mm,
  /** mm on the roll; null: said to be enough. */
  rollLength: z.number().positive().nullable(),
  /** Polygons that no part may touch. */
  defects: z.array(polygon),
  /** The polygon that all parts lie in; null: the roll is whole. */
  rollOutline: polygon.nullable(),
  turns: z.enum(turnings),
  gap: mm,
  /** Length of the bed; null: the cutter has none. */
  biteLength: z.number().positive().nullable(),
  /** mm cut by both passes where a part longer than the bed is cut in two; null: no part is longer. */
  joinOverlap: z.number().positive().nullable(),
  length: mm,
  density: mm,
  seed: z.number().int(),
  placements: z.array(
    z.strictObject({ label: name, x: z.number(), y: z.number(), rotation: z.number() }),
  ),
  /** mm of the material. */
  thickness: z.number().positive(),
  bites: z.array(biteRecordSchema),
});

/** An order, with what its set is called. */
export const orderRecordSchema = z.strictObject({
  ...orderSchema.shape,
  title: z.string(),
  /** Colour of the tape; null where none is named. */
  binding: z.string().nullable(),
});

/** run.json: no clock time, no machine paths, keys in this order. */
export const runRecordSchema = z.strictObject({
  format: z.literal(3),
  run: name,
  title: z.string(),
  /** The run whose parts are cut once more; null: this run is no recut. */
  recutOf: z.strictObject({ run: name, fingerprint: z.string() }).nullable(),
  inputs: z.array(z.strictObject({ file: name, sha256: z.string().regex(/^[0-9a-f]{64}$/) })),
  cutter: namedCutterSchema,
  materials: z.array(z.strictObject({ name, ...materialSchema.shape })),
  orders: z.array(orderRecordSchema),
  /** Whether papers say inches beside mm. */
  inches: z.boolean(),
  /** What labels are printed on. */
  labelStock: labelStockSchema,
  parts: z.array(partRecordSchema),
  lays: z.array(layRecordSchema),
});
