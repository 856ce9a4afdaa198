import { z } from 'zod';
import { areaOf } from '../../geometry/paths/area.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { pathLength } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import type { Edge, EdgeKind, Part } from '../../handing/part.ts';
import { orderSchema } from '../../handing/order.ts';
import type { Bite } from '../../knife/cuts.ts';
import type { Cutter } from '../../knife/cutter.ts';
import { namedCutterSchema } from '../../knife/cutter.ts';
import type { Lay } from '../../lay/lay.ts';
import { usableWidth } from '../../lay/lay.ts';
import { rounded } from '../../base/numbers.ts';
import type { LabelStock } from '../../pattern/shop/label-stock.ts';
import { defaultLabelStock, labelStockSchema } from '../../pattern/shop/label-stock.ts';
import type { Material } from '../../pattern/shop/material.ts';
import { materialSchema } from '../../pattern/shop/material.ts';
import { edgeKinds, turnings } from '../../pattern/words.ts';
import { readText, readYaml } from '../../base/yaml.ts';
import { writeJson } from './json.ts';
import type {
  ContourRecord,
  LayRecord,
  OrderRecord,
  PartRecord,
  RecutRecord,
  RunRecord,
} from './run-record.ts';

/** A run as the stages before left it. */
export interface RunToRecord {
  readonly run: string;
  readonly title: string;
  readonly inputs: RunRecord['inputs'];
  readonly cutter: Cutter;
  readonly parts: readonly Part[];
  readonly lays: readonly LayToRecord[];
  readonly materials?: readonly Material[];
  readonly orders?: readonly OrderRecord[];
  readonly inches?: boolean;
  readonly labelStock?: LabelStock;
  /** What happens next to each part, by its label. */
  readonly next?: ReadonlyMap<string, PartRecord['next']>;
  readonly recutOf?: RecutRecord;
}

interface LayToRecord {
  readonly lay: Lay;
  readonly seed: number;
  /** mm of the material. */
  readonly thickness: number;
  readonly bites: readonly Bite[];
}

/** What run.json says of a run: numbers rounded to six decimals, edges summed by kind. */
export function runRecord(facts: RunToRecord): RunRecord {
  const { run, title, inputs, cutter, parts, lays, next } = facts;
  return {
    format: 3,
    run,
    title,
    recutOf: facts.recutOf ?? null,
    inputs,
    cutter,
    materials: facts.materials ?? [],
    orders: facts.orders ?? [],
    inches: facts.inches ?? false,
    labelStock: facts.labelStock ?? defaultLabelStock,
    parts: parts.map((part) => partRecord(part, next?.get(part.label) ?? [])),
    lays: lays.map(layRecord),
  };
}

function partRecord(part: Part, next: PartRecord['next']): PartRecord {
  return {
    label: part.label,
    name: part.name,
    piece: part.piece,
    kind: part.kind,
    side: part.side,
    hand: part.hand,
    order: part.order,
    set: part.set,
    material: part.material,
    pileDeg: part.pileDeg === null ? null : six(part.pileDeg),
    turns: part.turns ?? null,
    tilt: part.tilt ?? 0,
    netArea: six(areaOf(part.net)),
    cutArea: six(areaOf(part.cut)),
    cutContour: contourRecord(part.cut),
    netContour: part.net === part.cut ? null : contourRecord(part.net),
    inner: part.inner.map(({ role, path }) => ({ role, contour: contourRecord(path) })),
    notches: part.notches.map(({ from, to }) => [pointRecord(from), pointRecord(to)]),
    marks: part.marks.map(({ role, path }) => ({
      role,
      closed: path.closed,
      path: contourRecord(path),
    })),
    edges: edgeLengths(part.edges),
    stretches: part.edges.map(({ kind, name: own, onShow, path }) => ({
      kind,
      name: own,
      onShow,
      path: contourRecord(path),
    })),
    next,
  };
}

function layRecord({ lay, seed, thickness, bites }: LayToRecord): LayRecord {
  const { roll, rules } = lay;
  return {
    material: lay.material,
    roll: roll.name ?? null,
    dyeLot: roll.dyeLot ?? null,
    rollWidth: roll.width,
    usableWidth: six(usableWidth(roll)),
    selvedge: roll.selvedge,
    startMargin: roll.startMargin,
    rollLength: roll.length === Infinity ? null : roll.length,
    defects: (roll.defects ?? []).map((defect) => defect.map(pointRecord)),
    rollOutline: roll.outline?.map(pointRecord) ?? null,
    turns: rules.turns,
    gap: rules.gap,
    biteLength: rules.biteLength === Infinity ? null : rules.biteLength,
    joinOverlap: rules.joinOverlap ?? null,
    length: six(lay.length),
    density: six(lay.density),
    seed,
    placements: lay.placements.map(({ label, x, y, rotation }) => ({
      label,
      x: six(x),
      y: six(y),
      rotation: six(rotation),
    })),
    thickness,
    bites: bites.map(({ start, leadIn, mark }) => ({
      start: six(start),
      leadIn: leadIn === undefined ? null : [pointRecord(leadIn.from), pointRecord(leadIn.to)],
      mark: mark === undefined ? null : pointRecord(mark),
    })),
  };
}

function edgeLengths(edges: readonly Edge[]): Record<EdgeKind, number> {
  const length = (kind: EdgeKind): number =>
    six(edges.filter((edge) => edge.kind === kind).reduce((sum, e) => sum + pathLength(e.path), 0));
  return {
    bound: length('bound'),
    seam: length('seam'),
    tuck: length('tuck'),
    turned: length('turned'),
    raw: length('raw'),
  };
}

function contourRecord({ vertices }: Path): ContourRecord {
  return vertices.map(({ x, y, bulge }) => [six(x), six(y), six(bulge)]);
}

function pointRecord({ x, y }: Point): [number, number] {
  return [six(x), six(y)];
}

function six(value: number): number {
  return rounded(value, 6);
}

/** The text of run.json: the same run, the same bytes. */
export function writeRunRecord(record: RunRecord): string {
  return writeJson(record);
}

/** Reads a run.json. Throws a Refusal that names the place of whatever does not fit. */
export function readRunRecord(file: string): RunRecord {
  const text = readText(file, 'run record');
  const quick = runRecordSchema.safeParse(parsedJson(text));
  if (quick.success) return quick.data;
  // JSON is YAML: the slower reader knows lines and columns, so it does the refusing.
  return readYaml(file, runRecordSchema, 'run record').value;
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

const name = z.string().min(1);
const point = z.tuple([z.number(), z.number()]);
const vertex = z.tuple([z.number(), z.number(), z.number()]);
const contour = z.array(vertex).min(2);
const mm = z.number().nonnegative();

const partSchema = z.strictObject({
  label: name,
  name,
  piece: name,
  kind: z.enum(['piece', 'pad', 'board', 'underlay']),
  side: z.enum(['left', 'right']).nullable(),
  hand: z.enum(['RHD', 'LHD']),
  order: name,
  set: z.number().int().positive(),
  material: name,
  pileDeg: z.number().nullable(),
  turns: z.enum(turnings).nullable(),
  tilt: mm,
  netArea: mm,
  cutArea: mm,
  cutContour: contour,
  netContour: contour.nullable(),
  inner: z.array(z.strictObject({ role: z.enum(['CUTOUT', 'HOLE']), contour })),
  notches: z.array(z.tuple([point, point])),
  marks: z.array(
    z.strictObject({
      role: z.enum(['FOLD', 'STITCH', 'MARK', 'PAD', 'DRILL']),
      closed: z.boolean(),
      path: z.array(vertex).min(1),
    }),
  ),
  edges: z.strictObject({ bound: mm, seam: mm, tuck: mm, turned: mm, raw: mm }),
  stretches: z.array(
    z.strictObject({
      kind: z.enum(edgeKinds),
      name: name.nullable(),
      onShow: z.boolean(),
      path: contour,
    }),
  ),
  next: z.array(z.tuple([z.string(), z.string()])),
});

const orderRecordSchema = z.strictObject({
  ...orderSchema.shape,
  title: z.string(),
  binding: z.string().nullable(),
});

const laySchema = z.strictObject({
  material: name,
  roll: name.nullable(),
  dyeLot: name.nullable(),
  rollWidth: z.number().positive(),
  usableWidth: z.number().positive(),
  selvedge: mm,
  startMargin: mm,
  rollLength: z.number().positive().nullable(),
  defects: z.array(z.array(point).min(3)),
  rollOutline: z.array(point).min(3).nullable(),
  turns: z.enum(turnings),
  gap: mm,
  biteLength: z.number().positive().nullable(),
  joinOverlap: z.number().positive().nullable(),
  length: mm,
  density: mm,
  seed: z.number().int(),
  placements: z.array(
    z.strictObject({ label: name, x: z.number(), y: z.number(), rotation: z.number() }),
  ),
  thickness: z.number().positive(),
  bites: z.array(
    z.strictObject({
      start: mm,
      leadIn: z.tuple([point, point]).nullable(),
      mark: point.nullable(),
    }),
  ),
});

const runRecordSchema: z.ZodType<RunRecord> = z.strictObject({
  format: z.literal(3),
  run: name,
  title: z.string(),
  recutOf: z.strictObject({ run: name, fingerprint: z.string() }).nullable(),
  inputs: z.array(z.strictObject({ file: name, sha256: z.string().regex(/^[0-9a-f]{64}$/) })),
  cutter: namedCutterSchema,
  materials: z.array(z.strictObject({ name, ...materialSchema.shape })),
  orders: z.array(orderRecordSchema),
  inches: z.boolean(),
  labelStock: labelStockSchema,
  parts: z.array(partSchema),
  lays: z.array(laySchema),
});
