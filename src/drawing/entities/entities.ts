import type { Curve } from '../../geometry/curves/curve.ts';
import { transformCurve } from '../../geometry/curves/curve.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { compose, identity, scaling } from '../../geometry/paths/transform.ts';
import { refuse } from '../../base/findings.ts';
import { nameIn } from '../tags/content.ts';
import { arcIn, circleIn, lightPolylineIn, lineIn, pointIn, polylineIn, tidied } from './curves.ts';
import type { PointMark } from '../drawing.ts';
import type { DrawnEntity } from './drawn.ts';
import type { Remark } from '../findings.ts';
import type { Frame } from './frame.ts';
import { frameOf } from './frame.ts';
import type { FreeCurve } from './free-curves.ts';
import { ellipseIn, splineIn } from './free-curves.ts';
import { placed } from './placing.ts';
import type { DxfRecord } from '../tags/records.ts';
import { hasTag, numberIn } from '../tags/records.ts';
import type { TextParts } from './texts.ts';
import { attributeIn, isConstant, paragraphIn, textLineIn } from './texts.ts';

/** An entity in mm as seen from above, and the remarks on it. */
export interface EntityReading {
  readonly entity?: DrawnEntity;
  readonly remarks: readonly Remark[];
}

/** The geometry of an entity, in drawing units and in its own frame. */
type Figure =
  | { readonly kind: 'path'; readonly path: Path }
  | { readonly kind: 'point'; readonly at: Point; readonly mark?: PointMark }
  | ({ readonly kind: 'text' } & TextParts);

const text = (parts: TextParts): Figure => ({ kind: 'text', ...parts });
const path = (drawn: Path): Figure => ({ kind: 'path', path: drawn });

const figures: ReadonlyMap<string, (record: DxfRecord) => Figure> = new Map([
  ['LINE', (record) => path(lineIn(record))],
  ['ARC', (record) => path(arcIn(record))],
  ['CIRCLE', (record) => path(circleIn(record))],
  ['LWPOLYLINE', (record) => path(lightPolylineIn(record))],
  ['POLYLINE', (record) => path(polylineIn(record))],
  ['POINT', markedPoint],
  ['TEXT', (record) => text(textLineIn(record))],
  ['ATTRIB', (record) => text(attributeIn(record))],
  ['ATTDEF', (record) => text(textLineIn(record))],
  ['MTEXT', (record) => text(paragraphIn(record))],
]);

const freeCurves: ReadonlyMap<string, (record: DxfRecord) => FreeCurve | undefined> = new Map([
  ['SPLINE', splineIn],
  ['ELLIPSE', ellipseIn],
]);

/** Types whose points are stored in the world's frame, even if they have an extrusion direction. */
const inWorld: ReadonlySet<string> = new Set(['LINE', 'POINT', 'MTEXT']);

/** Types that explain or decorate a drawing and are never a contour. */
const annotations: ReadonlySet<string> = new Set([
  'HATCH',
  'DIMENSION',
  'ARC_DIMENSION',
  'LARGE_RADIAL_DIMENSION',
  'LEADER',
  'MULTILEADER',
  'TOLERANCE',
  'ACAD_TABLE',
  'IMAGE',
  'WIPEOUT',
  'VIEWPORT',
  'XLINE',
  'RAY',
]);

const meshTodo = 'Draw its outline as a flat polyline and export again.';

/** Reads one entity that is not an INSERT. Throws a Refusal if it is damaged. */
export function readEntity(record: DxfRecord, mmPerUnit: number): EntityReading {
  // What an attribute may say, each insert of its block says itself.
  if (record.type === 'ATTDEF' && !isConstant(record)) return { remarks: [] };
  if (annotations.has(record.type)) return { remarks: [remarkOn(record, 'left-out')] };
  const freeCurveOf = freeCurves.get(record.type);
  if (freeCurveOf !== undefined) return curveReading(record, freeCurveOf(record), mmPerUnit);
  const figureOf = figures.get(record.type);
  if (figureOf === undefined) return notRead(record, record.type);
  if (isMesh(record)) return notRead(record, 'POLYLINE that is a mesh (polyface)', meshTodo);
  const own = !inWorld.has(record.type) && !isInSpace(record);
  const frame = own ? frameOf(record, heightOf(record) * mmPerUnit) : level;
  if (frame === undefined) return notRead(record, `${record.type} seen on its edge`, flatten);
  const layer = nameIn(record, 8);
  const drawn = { layer, line: record.line, ...figureOf(record) };
  const entity = placed(compose(frame.toWorld, scaling(mmPerUnit, mmPerUnit)), drawn);
  const { entity: kept, remarks } = tidiedReading(entity, record);
  return {
    ...(kept && { entity: kept }),
    remarks: [...remarks, ...heightRemarks(record, frame, mmPerUnit)],
  };
}

const level: Frame = { toWorld: identity, tilted: false };
const flatten = 'Flatten it to a plane polyline seen from above and export again.';

function markedPoint(record: DxfRecord): Figure {
  const mark = {
    height: numberIn(record, 30, 0),
    thickness: numberIn(record, 39, 0),
    deg: hasTag(record, 50) ? numberIn(record, 50) : null,
  };
  const isPlain = mark.height === 0 && mark.thickness === 0 && mark.deg === null;
  return { kind: 'point', at: pointIn(record), ...(!isPlain && { mark }) };
}

function curveReading(
  record: DxfRecord,
  free: FreeCurve | undefined,
  mmPerUnit: number,
): EntityReading {
  if (free === undefined) return { remarks: [{ ...remarkOn(record, 'zero-length'), what: '' }] };
  const { type: what, line } = record;
  const layer = nameIn(record, 8);
  const curve = transformCurve(scaling(mmPerUnit, mmPerUnit), free.curve);
  return {
    entity: withinReach({ kind: 'curves', layer, line, what, curves: [curve] }),
    remarks: [
      ...(free.rises ? [remarkOn(record, 'not-level')] : []),
      ...(free.interpolated ? [remarkOn(record, 'interpolated')] : []),
    ],
  };
}

function tidiedReading(entity: DrawnEntity, record: DxfRecord): EntityReading {
  if (entity.kind !== 'path') return { entity: withinReach(entity), remarks: [] };
  const { path: kept, dropped } = tidied(entity.path);
  const remarks: Remark[] = [];
  if (dropped > 0) remarks.push({ ...remarkOn(record, 'zero-length'), what: '', count: dropped });
  return kept === undefined
    ? { remarks }
    : { entity: withinReach({ ...entity, path: kept }), remarks };
}

/** Remarks if the entity does not lie level, and so looks different from above. */
function heightRemarks(record: DxfRecord, { tilted }: Frame, mmPerUnit: number): Remark[] {
  // A rise of 0.01 mm shortens a line of 1 mm by only 0.00005 mm.
  const what = isInSpace(record) ? `3D ${record.type}` : record.type;
  if (tilted || risesBy(record) * mmPerUnit > 0.01) {
    return [{ ...remarkOn(record, 'not-level'), what }];
  }
  return isInSpace(record) ? [{ ...remarkOn(record, 'in-space'), what }] : [];
}

/** The height of an entity's plane above the origin of its frame, in drawing units. */
function heightOf(record: DxfRecord): number {
  return record.type === 'LWPOLYLINE' ? numberIn(record, 38, 0) : numberIn(record, 30, 0);
}

/** Whether a POLYLINE is a mesh (flag 16) or a polyface mesh (flag 64). */
function isMesh(record: DxfRecord): boolean {
  return record.type === 'POLYLINE' && (numberIn(record, 70, 0) & (16 | 64)) !== 0;
}

/** Whether a POLYLINE is a 3D polyline (flag 8). */
function isInSpace(record: DxfRecord): boolean {
  return record.type === 'POLYLINE' && (numberIn(record, 70, 0) & 8) !== 0;
}

/**
 * By how much the ends of a LINE, or the vertices of a 3D polyline, differ in height; in drawing units.
 */
function risesBy(record: DxfRecord): number {
  if (record.type === 'LINE') return Math.abs(numberIn(record, 31, 0) - numberIn(record, 30, 0));
  if (!isInSpace(record) || record.parts.length === 0) return 0;
  const heights = record.parts.map((part) => numberIn(part, 30, 0));
  return heights.reduce((a, b) => Math.max(a, b)) - heights.reduce((a, b) => Math.min(a, b));
}

export function remarkOn(record: DxfRecord, kind: Remark['kind'], todo?: string): Remark {
  const { type, line } = record;
  return { kind, what: type, layer: nameIn(record, 8), line, count: 1, ...(todo && { todo }) };
}

/** The reading of an entity that cannot be read: a remark that becomes an error. */
export function notRead(record: DxfRecord, what: string, todo?: string): EntityReading {
  return { remarks: [{ ...remarkOn(record, 'not-read', todo), what }] };
}

/**
 * Returns the entity, or throws a Refusal if it lies more than 1000 km from the origin: doubles are no
 * longer exact to a micron there.
 */
export function withinReach<E extends DrawnEntity>(entity: E): E {
  const furthest = furthestOf(entity);
  if (furthest <= 1e9) return entity;
  return refuse(
    'far-away',
    `this lies ${furthest.toExponential(1)} mm from the drawing's origin (groups 10 and 20).`,
    'The coordinates or the scale of an insert are damaged; mend them and export again.',
    { line: entity.line },
  );
}

function furthestOf(entity: DrawnEntity): number {
  const out = ({ x, y }: Point): number => Math.max(Math.abs(x), Math.abs(y));
  switch (entity.kind) {
    case 'path':
      return entity.path.vertices.reduce((most, vertex) => Math.max(most, out(vertex)), 0);
    case 'curves':
      return entity.curves.reduce((most, curve) => Math.max(most, reachOf(curve)), 0);
    case 'point':
      return out(entity.at);
    case 'text':
      return Math.max(out(entity.at), entity.height);
  }
}

function reachOf(curve: Curve): number {
  const points = curve.kind === 'spline' ? curve.points : [curve.centre, curve.u, curve.v];
  return points.reduce((most, { x, y }) => Math.max(most, Math.abs(x), Math.abs(y)), 0);
}
