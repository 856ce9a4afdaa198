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

/** A point stored at groups `code` and `code + 10`, in drawing units. */
export function pointIn(record: DxfRecord, code = 10): Point {
  return { x: numberIn(record, code), y: numberIn(record, code + 10) };
}

export function lineIn(record: DxfRecord): Path {
  return polyline([pointIn(record), pointIn(record, 11)], false);
}

export function circleIn(record: DxfRecord): Path {
  return circle(pointIn(record), radiusIn(record));
}

/** Counter-clockwise from its start angle to its end angle; equal angles are a full turn. */
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

/** LWPOLYLINE: 10 begins a vertex, 20 and 42 belong to the vertex before them. */
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

/** POLYLINE, flat. Vertices with flag 16 steer a smoothed curve and do not lie on it. */
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
 * The path (mm) as the rest of the product wants it, and how many segments of no length it had. Ends
 * that meet make it closed, a repeated first vertex goes, and no segment turns further than a half
 * circle: beyond that, rounding a corner moves the whole arc. Undefined where nothing is left.
 */
export function tidied(path: Path): { path: Path | undefined; dropped: number } {
  const joined = joinedEnds(path);
  const kept = withoutZeroSegments(joined);
  const dropped = joined.vertices.length - kept.vertices.length;
  if (kept.vertices.length < 2) return { path: undefined, dropped: Math.max(1, dropped) };
  // A half circle that was rounded on its way here is still one.
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

/** The bulge of a half circle, and what rounding leaves of it. */
const widest = 1 + 1e-6;

/** In an open path it means nothing. */
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
  // The arc's top lies bulge times half the chord to the right of the chord's middle.
  const top = plus(between(from, to, 0.5), times(leftOf(minus(to, from)), -from.bulge / 2));
  const bulge = Math.tan(Math.atan(from.bulge) / 2);
  return [
    { ...from, bulge },
    { ...top, bulge },
  ];
}
