import { z } from 'zod';
import { orderSchema } from '../../handing/order.ts';
import { markRoles, partKinds } from '../../handing/part.ts';
import { namedCutterSchema } from '../../knife/cutter.ts';
import { benchSchema } from '../../pattern/shop/bench.ts';
import { labelStockSchema } from '../../pattern/shop/label-stock.ts';
import { materialSchema } from '../../pattern/shop/material.ts';
import { edgeKinds, hands, sides, turnings } from '../../pattern/words.ts';

/**
 * What run.json holds. The reader checks a file against this schema, and all types of the record are
 * derived from it (run-record.ts). Lengths in mm, areas in mm2, angles in degrees. A key is always there,
 * and null means that there is nothing to say; but what only came in later (colours, and what orders say
 * of options, parts and people) is left out then, so that older runs keep their bytes.
 */

const name = z.string().min(1);
const mm = z.number().nonnegative();
const point = z.tuple([z.number(), z.number()]);
/** x, y in mm and the bulge of the segment that begins there, each with at most six decimals. */
const vertex = z.tuple([z.number(), z.number(), z.number()]);
/** A closed contour, counter-clockwise; the first vertex is not repeated. */
const contour = z.array(vertex).min(2);
const polygon = z.array(point).min(3);

/** A part: all that the proof and a recut must know about it, in its own frame. */
export const partRecordSchema = z.strictObject({
  label: name,
  name,
  piece: name,
  kind: z.enum(partKinds),
  /** null: a centre part. */
  side: z.enum(sides).nullable(),
  hand: z.enum(hands),
  order: name,
  set: z.number().int().positive(),
  material: name,
  /** The colour of its material. Left out: it is kept in none. */
  colour: name.optional(),
  /** Degrees counter-clockwise from +x; null: it has no pile direction. */
  pileDeg: z.number().nullable(),
  /** How it may be turned on the roll. null: as its material says. */
  turns: z.enum(turnings).nullable(),
  /** By how many degrees more it may be turned to save material. */
  tilt: mm,
  /** Area inside the net outline, mm2; cutouts are not subtracted. */
  netArea: mm,
  /** Area inside the cut contour, mm2; cutouts are not subtracted. */
  cutArea: mm,
  cutContour: contour,
  /** The net outline. null: it is the same as the cut contour. */
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
  /** Length of the net outline for each kind of edge, mm. */
  edges: z.strictObject({ bound: mm, seam: mm, tuck: mm, turned: mm, raw: mm }),
  /** The edges, as stretches of the net outline in its direction. */
  stretches: z.array(
    z.strictObject({
      kind: z.enum(edgeKinds),
      name: name.nullable(),
      onShow: z.boolean(),
      path: contour,
    }),
  ),
  /** What happens to it once it is cut: each step as a verb and the rest of its words. */
  next: z.array(z.tuple([z.string(), z.string()])),
  /** The options that shape it, each in words and in few. Left out: none does. */
  shape: z.array(z.tuple([z.string(), z.string()])).optional(),
});

/** What a bite has besides its parts, in the frame of the lay as it lies on the bed. */
export const biteRecordSchema = z.strictObject({
  /** Where the bed begins, mm from the roll's start. */
  start: mm,
  /** The way of the swivel axis on the lead-in, from and to. null: the bite has none. */
  leadIn: z.tuple([point, point]).nullable(),
  /** The middle of the registration mark. null: there is none. */
  mark: point.nullable(),
});

export const layRecordSchema = z.strictObject({
  material: name,
  /** Left out: the material is kept in no colours. */
  colour: name.optional(),
  /** Its name among several rolls of the material. null: there is only one. */
  roll: name.nullable(),
  dyeLot: name.nullable(),
  rollWidth: z.number().positive(),
  usableWidth: z.number().positive(),
  selvedge: mm,
  startMargin: mm,
  /** Length on the roll, mm. null: nobody said, so it is taken to be enough. */
  rollLength: z.number().positive().nullable(),
  /** Polygons that no part may touch. */
  defects: z.array(polygon),
  /** The polygon in which all parts lie. null: the roll is no remnant. */
  rollOutline: polygon.nullable(),
  turns: z.enum(turnings),
  gap: mm,
  /** Length of the bed. null: the cutter has none. */
  biteLength: z.number().positive().nullable(),
  /**
   * How much both passes cut where a part longer than the bed is cut in two, mm. null: such parts are not
   * cut.
   */
  joinOverlap: z.number().positive().nullable(),
  length: mm,
  density: mm,
  seed: z.number().int(),
  placements: z.array(
    z.strictObject({ label: name, x: z.number(), y: z.number(), rotation: z.number() }),
  ),
  /** Thickness of the material, mm. */
  thickness: z.number().positive(),
  bites: z.array(biteRecordSchema),
});

/** An order, with the title of its set. */
export const orderRecordSchema = z.strictObject({
  ...orderSchema.shape,
  title: z.string(),
  /** The title without the options that stand behind it. Left out: there are none. */
  setTitle: z.string().optional(),
  /** Colour of the tape. null: none is named. */
  binding: z.string().nullable(),
});

/** run.json. It holds no clock time and no machine paths, and its keys stand in this order. */
export const runRecordSchema = z.strictObject({
  format: z.literal(3),
  run: name,
  title: z.string(),
  /** The run whose parts are cut once more. null: this run is no recut. */
  recutOf: z.strictObject({ run: name, fingerprint: z.string() }).nullable(),
  inputs: z.array(z.strictObject({ file: name, sha256: z.string().regex(/^[0-9a-f]{64}$/) })),
  cutter: namedCutterSchema,
  materials: z.array(z.strictObject({ name, ...materialSchema.shape })),
  orders: z.array(orderRecordSchema),
  /** Whether papers say inches beside mm. */
  inches: z.boolean(),
  /** The sheet that labels are printed on. */
  labelStock: labelStockSchema,
  /** What work at the bench costs. Left out: the shop does not say it. */
  bench: benchSchema.optional(),
  parts: z.array(partRecordSchema),
  lays: z.array(layRecordSchema),
});
