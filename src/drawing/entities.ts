import { boxOfPath, boxOfPoints } from '../geometry/box.ts';
import type { Path } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { compose, identity, scaling } from '../geometry/transform.ts';
import { refuse } from '../findings.ts';
import { nameIn } from './content.ts';
import { arcIn, circleIn, lightPolylineIn, lineIn, pointIn, polylineIn, tidied } from './curves.ts';
import type { Entity } from './drawing.ts';
import type { Remark } from './findings.ts';
import { frameOf } from './frame.ts';
import { placed } from './placing.ts';
import type { DxfRecord } from './records.ts';
import { numberIn } from './records.ts';
import type { TextParts } from './texts.ts';
import { paragraphIn, textLineIn } from './texts.ts';

/** An entity in mm as seen from above, and what is to be said about it. */
export interface EntityReading {
  readonly entity?: Entity;
  readonly remarks: readonly Remark[];
}

/** What an entity draws, in drawing units and in its own frame. */
type Figure =
  | { readonly kind: 'path'; readonly path: Path }
  | { readonly kind: 'point'; readonly at: Point }
  | ({ readonly kind: 'text' } & TextParts);

const text = (parts: TextParts): Figure => ({ kind: 'text', ...parts });
const path = (drawn: Path): Figure => ({ kind: 'path', path: drawn });

const figures: ReadonlyMap<string, (record: DxfRecord) => Figure> = new Map([
  ['LINE', (record) => path(lineIn(record))],
  ['ARC', (record) => path(arcIn(record))],
  ['CIRCLE', (record) => path(circleIn(record))],
  ['LWPOLYLINE', (record) => path(lightPolylineIn(record))],
  ['POLYLINE', (record) => path(polylineIn(record))],
  ['POINT', (record) => ({ kind: 'point', at: pointIn(record) })],
  ['TEXT', (record) => text(textLineIn(record))],
  ['ATTRIB', (record) => text(textLineIn(record))],
  ['MTEXT', (record) => text(paragraphIn(record))],
]);

/** Stored in the world's frame whatever their extrusion says. */
const inWorld: ReadonlySet<string> = new Set(['LINE', 'POINT', 'MTEXT']);

/** What explains or decorates a drawing and is never a contour. */
const annotations: ReadonlySet<string> = new Set([
  'HATCH',
  'DIMENSION',
  'ARC_DIMENSION',
  'LARGE_RADIAL_DIMENSION',
  'LEADER',
  'MULTILEADER',
  'TOLERANCE',
  'ATTDEF',
  'ACAD_TABLE',
  'IMAGE',
  'WIPEOUT',
  'VIEWPORT',
  'XLINE',
  'RAY',
]);

const toArcs = 'Convert it to a polyline of lines and arcs and export again.';
const flatten = 'Flatten it to a plane polyline seen from above and export again.';
const todos: ReadonlyMap<string, string> = new Map([
  ['SPLINE', toArcs],
  ['ELLIPSE', toArcs],
]);

/** Reads one entity other than an INSERT. Throws a Refusal where it is damaged. */
export function readEntity(record: DxfRecord, mmPerUnit: number): EntityReading {
  if (annotations.has(record.type)) return { remarks: [remarkOn(record, 'left-out')] };
  const figureOf = figures.get(record.type);
  if (figureOf === undefined) return notRead(record, record.type, todos.get(record.type));
  if (isSpatial(record)) return notRead(record, 'POLYLINE in space', flatten);
  const frame = inWorld.has(record.type) ? identity : frameOf(record);
  if (frame === undefined) return notRead(record, `tilted ${record.type}`, flatten);
  const layer = nameIn(record, 8);
  const drawn = { layer, line: record.line, ...figureOf(record) };
  const entity = placed(compose(frame, scaling(mmPerUnit, mmPerUnit)), drawn)!;
  return tidiedReading(entity, risesBy(record) * mmPerUnit, record);
}

function tidiedReading(entity: Entity, rise: number, record: DxfRecord): EntityReading {
  if (entity.kind !== 'path') return { entity: withinReach(entity), remarks: [] };
  const { path: kept, dropped } = tidied(entity.path);
  const remarks: Remark[] = [];
  if (dropped > 0) remarks.push({ ...remarkOn(record, 'zero-length'), what: '', count: dropped });
  // A rise of a hundredth shortens a line of a millimetre by 0.00005 mm.
  if (rise > 0.01) remarks.push(remarkOn(record, 'not-level'));
  return kept === undefined
    ? { remarks }
    : { entity: withinReach({ ...entity, path: kept }), remarks };
}

/** 3D polylines (8), meshes (16) and polyface meshes (64). */
function isSpatial(record: DxfRecord): boolean {
  return record.type === 'POLYLINE' && (numberIn(record, 70, 0) & (8 | 16 | 64)) !== 0;
}

/** How far a LINE's ends differ in height. */
function risesBy(record: DxfRecord): number {
  return record.type === 'LINE' ? Math.abs(numberIn(record, 31, 0) - numberIn(record, 30, 0)) : 0;
}

export function remarkOn(record: DxfRecord, kind: Remark['kind'], todo?: string): Remark {
  const { type, line } = record;
  return { kind, what: type, layer: nameIn(record, 8), line, count: 1, ...(todo && { todo }) };
}

export function notRead(record: DxfRecord, what: string, todo?: string): EntityReading {
  return { remarks: [{ ...remarkOn(record, 'not-read', todo), what }] };
}

/** Throws a Refusal on what lies further than 1000 km out: beyond that, doubles lose the micron. */
export function withinReach(entity: Entity): Entity {
  const box = entity.kind === 'path' ? boxOfPath(entity.path) : boxOfPoints([entity.at]);
  const height = entity.kind === 'text' ? entity.height : 0;
  const furthest = Math.max(...Object.values(box).map(Math.abs), height);
  if (furthest <= 1e9) return entity;
  return refuse(
    'far-away',
    `this lies ${furthest.toExponential(1)} mm from the drawing's origin.`,
    'The coordinates or the scale of an insert are damaged; mend them and export again.',
    { line: entity.line },
  );
}
