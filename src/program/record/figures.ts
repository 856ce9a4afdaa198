import { rounded } from '../../base/numbers.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import type { ContourRecord, PolygonRecord, VertexRecord } from './run-record.ts';

/** A number as the record has it, with six decimals. */
export function six(value: number): number {
  return rounded(value, 6);
}

export function pointRecord({ x, y }: Point): [number, number] {
  return [six(x), six(y)];
}

/** The vertices of a path. They do not tell whether it is closed. */
export function verticesRecord({ vertices }: Path): [number, number, number][] {
  return vertices.map(({ x, y, bulge }) => [six(x), six(y), six(bulge)]);
}

export function recordedPath(vertices: readonly VertexRecord[], closed: boolean): Path {
  return { closed, vertices: vertices.map(([x, y, bulge]) => ({ x, y, bulge })) };
}

export function recordedContour(contour: ContourRecord): Path {
  return recordedPath(contour, true);
}

export function recordedPolygon(polygon: PolygonRecord): Point[] {
  return polygon.map(([x, y]) => ({ x, y }));
}
