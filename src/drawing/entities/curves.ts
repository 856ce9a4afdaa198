import { headingOf, normalDeg } from '../../geometry/paths/angle.ts';
import type { Path, Vertex } from '../../geometry/paths/path.ts';
import { circle, polyline, withoutZeroSegments } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { between, distance, leftOf, minus, plus, times } from '../../geometry/paths/point.ts';
import { bulgeOf } from '../../geometry/paths/segment.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import { refuse } from '../../base/findings.ts';
import type { DxfRecord } from '../tags/records.ts';
import { numberIn } from '../tags/records.ts';

/** The point whose x stands in group `code` and its y in group `code + 10`, in drawing units. */
export function pointIn(record: DxfRecord, code = 10): Point {
  return { x: numberIn(record, code), y: numberIn(record, code + 10) };
}

export function lineIn(record: DxfRecord): Path {
  return polyline([pointIn(record), pointIn(record, 11)], false);
}

export function circleIn(record: DxfRecord): Path {
  return circle(pointIn(record), radiusIn(record));
}

/** The ARC, counter-clockwise from its start angle to its end angle. Equal angles mean a full turn. */
export function arcIn(record: DxfRecord): Path {
  const centre = pointIn(record);
  const radius = radiusIn(record);
  const start = numberIn(record, 50);
  const sweep = normalDeg(numberIn(record, 51) - start) || 360;
  const pieces = sweep > 180 ? 2 : 1;
  const bulge = bulgeOf((sweep / pieces) * (Math.PI / 180));
  const vertices = Array.from({ length: pieces + 1 }, (_, i): Vertex => {
    const at = plus(centre, times(headingOf(start + (sweep * i) / pieces), radius));
    return { x: at.x, y: at.y, bulge: i < pieces ? bulge : 0 };
  });
  return { closed: false, vertices };
}

function radiusIn(record: DxfRecord): number {
  const radius = numberIn(record, 40);
  if (radius >= 0) return radius;
  return refuse(
    'structure',
    `the ${record.type} has the radius ${radius} (group 40).`,
    'Redraw it.',
    {
      line: record.line,
    },
  );
}

/** The LWPOLYLINE. Group 10 begins a vertex; groups 20 and 42 that follow belong to it. */
export function lightPolylineIn(record: DxfRecord): Path {
  const vertices: { x: number; y: number; bulge: number }[] = [];
  for (const { code, value } of record.tags) {
    if (code === 10) vertices.push({ x: Number(value), y: NaN, bulge: 0 });
    else if (code === 20 && vertices.length > 0) vertices.at(-1)!.y = Number(value);
    else if (code === 42 && vertices.length > 0) vertices.at(-1)!.bulge = Number(value);
  }
  const stated = numberIn(record, 90, vertices.length);
  if (stated !== vertices.length) {
    damaged(
      record,
      `the LWPOLYLINE states ${stated} vertices (group 90) and has ${vertices.length}.`,
    );
  }
  const half = vertices.findIndex(({ y }) => Number.isNaN(y));
  if (half >= 0) damaged(record, `vertex ${half + 1} of the LWPOLYLINE has no group 20.`);
  return { closed: isClosed(record), vertices };
}

/** Throws a Refusal that names the record's line. */
export function damaged(record: DxfRecord, message: string): never {
  const todo = 'The file is damaged; export the drawing again.';
  return refuse('structure', message, todo, { line: record.line });
}

/**
 * The POLYLINE, seen from above. Vertices with flag 16 are left out: they only steer a smoothed curve and
 * do not lie on it.
 */
export function polylineIn(record: DxfRecord): Path {
  const onCurve = record.parts.filter((part) => (numberIn(part, 70, 0) & 16) === 0);
  return { closed: isClosed(record), vertices: onCurve.map(vertexIn) };
}

function isClosed(record: DxfRecord): boolean {
  return (numberIn(record, 70, 0) & 1) === 1;
}

function vertexIn(record: DxfRecord): Vertex {
  return { ...pointIn(record), bulge: numberIn(record, 42, 0) };
}

/**
 * The path (mm) as the rest of the product wants it, and how many segments of no length were `dropped`:
 * - If its ends meet it is closed, and the first vertex is not repeated.
 * - No segment turns by more than a half circle: in a larger arc the rounding of an end moves the whole
 *   arc.
 * - The last bulge of an open path is 0.
 *
 * `path` is undefined if nothing is left.
 */
export function tidied(path: Path): { path: Path | undefined; dropped: number } {
  const joined = joinedEnds(path);
  const kept = withoutZeroSegments(joined);
  const dropped = joined.vertices.length - kept.vertices.length;
  if (kept.vertices.length < 2) return { path: undefined, dropped: Math.max(1, dropped) };
  // A half circle whose bulge was rounded to a little more than 1 need not be divided.
  if (kept.vertices.every(({ bulge }) => Math.abs(bulge) <= widest)) {
    return { path: withoutLastBulge(kept), dropped };
  }
  const vertices = kept.vertices.flatMap((vertex, i) => {
    const next = kept.vertices[i + 1];
    if (next === undefined && !kept.closed) return [{ ...vertex, bulge: 0 }];
    return halved(vertex, next ?? kept.vertices[0]!);
  });
  return { path: { closed: kept.closed, vertices }, dropped };
}

/** The bulge of a half circle, and a little more for rounding. */
const widest = 1 + 1e-6;

/** The last bulge of an open path means nothing: sets it to 0. */
function withoutLastBulge(path: Path): Path {
  const last = path.vertices.at(-1)!;
  if (path.closed || last.bulge === 0) return path;
  return { closed: false, vertices: [...path.vertices.slice(0, -1), { ...last, bulge: 0 }] };
}

function joinedEnds(path: Path): Path {
  const first = path.vertices[0];
  const last = path.vertices.at(-1);
  if (first === undefined || last === undefined || path.vertices.length < 3) return path;
  if (distance(first, last) >= samePoint) return path;
  return { closed: true, vertices: path.vertices.slice(0, -1) };
}

function halved(from: Vertex, to: Point): Vertex[] {
  if (Math.abs(from.bulge) <= widest) return [from];
  // A positive bulge bends to the right of the chord, and the top of the arc is bulge times half the
  // chord away from its middle.
  const top = plus(between(from, to, 0.5), times(leftOf(minus(to, from)), -from.bulge / 2));
  const bulge = Math.tan(Math.atan(from.bulge) / 2);
  return [
    { ...from, bulge },
    { ...top, bulge },
  ];
}
