import type { Point } from './point.ts';
import type { Box } from './box.ts';
import { boxOfPoints, unionBox } from './box.ts';
import type { Segment } from './segment.ts';
import { boxOfSegment, partOfSegment, pointAt, segmentLength, tangentAt } from './segment.ts';
import { distance } from './point.ts';
import { flatArc, samePoint } from './tolerance.ts';

/** A corner of a path. `bulge` belongs to the segment that leaves it (see Segment). */
export interface Vertex extends Point {
  readonly bulge: number;
}

/**
 * Straight and circular segments, one after the other, in mm. A closed path also has the segment from its
 * last vertex to its first; the first vertex is not repeated. In an open path the bulge of the last
 * vertex means nothing and is 0. A full circle has two vertices with bulge 1.
 */
export interface Path {
  readonly closed: boolean;
  readonly vertices: readonly Vertex[];
}

/** The segments in order. An arc that is too flat (see flatArc) is given as a straight segment. */
export function segmentsOf(path: Path): Segment[] {
  const { vertices, closed } = path;
  const segments: Segment[] = [];
  const count = closed ? vertices.length : vertices.length - 1;
  for (let i = 0; i < count; i++) {
    segments.push(segmentFrom(vertices[i]!, vertices[(i + 1) % vertices.length]!));
  }
  return segments;
}

function segmentFrom(from: Vertex, to: Vertex): Segment {
  if (from.bulge === 0) return { from, to, bulge: 0 };
  const rise = (Math.abs(from.bulge) * distance(from, to)) / 2;
  return { from, to, bulge: rise < flatArc ? 0 : from.bulge };
}

/** The path of segments each of which begins where the one before ends. */
export function pathOf(segments: readonly Segment[], closed: boolean): Path {
  const vertices = segments.map(({ from, bulge }): Vertex => ({ x: from.x, y: from.y, bulge }));
  const last = segments.at(-1);
  if (!closed && last !== undefined) vertices.push({ x: last.to.x, y: last.to.y, bulge: 0 });
  return { closed, vertices };
}

/** A path of straight segments. */
export function polyline(points: readonly Point[], closed: boolean): Path {
  return { closed, vertices: points.map(({ x, y }) => ({ x, y, bulge: 0 })) };
}

/** A full circle, counter-clockwise, starting at its rightmost point. */
export function circle(centre: Point, radius: number): Path {
  return {
    closed: true,
    vertices: [
      { x: centre.x + radius, y: centre.y, bulge: 1 },
      { x: centre.x - radius, y: centre.y, bulge: 1 },
    ],
  };
}

/** The length of a path, mm. */
export function pathLength(path: Path): number {
  return segmentsOf(path).reduce((sum, segment) => sum + segmentLength(segment), 0);
}

/** The same curve run the other way. A closed path keeps its first vertex. */
export function reversePath(path: Path): Path {
  const { vertices, closed } = path;
  const n = vertices.length;
  const reversed = vertices.map((_, i): Vertex => {
    const at = closed ? (n - i) % n : n - 1 - i;
    const { x, y } = vertices[at]!;
    const leaving = closed ? (at - 1 + n) % n : at - 1;
    return { x, y, bulge: leaving < 0 ? 0 : negated(vertices[leaving]!.bulge) };
  });
  return { closed, vertices: reversed };
}

function negated(bulge: number): number {
  return bulge === 0 ? 0 : -bulge;
}

/**
 * A place on a path: the index of a segment, and the share t of that segment's length up to the place,
 * from 0 to 1. In a closed path most functions give the end of a segment as the start of the next one.
 */
export interface Station {
  readonly segment: number;
  readonly t: number;
}

/** The closed path, begun at a station. If there is no vertex there, one is added. */
export function startAt(path: Path, station: Station): Path {
  const segments = segmentsOf(path);
  const cut = segments[station.segment]!;
  const before = segments.slice(0, station.segment);
  const after = segments.slice(station.segment + 1);
  const split =
    station.t === 0
      ? [[cut], []]
      : [[partOfSegment(cut, station.t, 1)], [partOfSegment(cut, 0, station.t)]];
  return pathOf([...split[0]!, ...after, ...before, ...split[1]!], true);
}

/** The path without segments of samePoint or less. */
export function withoutZeroSegments(path: Path): Path {
  const kept = path.vertices.filter((vertex, i) => {
    if (!path.closed && i === path.vertices.length - 1) return true;
    return distance(vertex, path.vertices[(i + 1) % path.vertices.length]!) > samePoint;
  });
  return { closed: path.closed, vertices: kept };
}

/** The point half way along the path. */
export function middleOfPath(path: Path): Point {
  return alongPath(path, pathLength(path) / 2).point;
}

/**
 * The station at a distance (mm) along the path from its start, with the point and the unit vector of
 * travel there. Throws RangeError if the path has no segments.
 */
export function alongPath(
  path: Path,
  length: number,
): { station: Station; point: Point; tangent: Point } {
  let left = length;
  const segments = segmentsOf(path);
  for (const [i, segment] of segments.entries()) {
    const own = segmentLength(segment);
    if (left <= own || i === segments.length - 1) {
      const t = own === 0 ? 0 : Math.min(1, left / own);
      return {
        station: { segment: i, t },
        point: pointAt(segment, t),
        tangent: tangentAt(segment, t),
      };
    }
    left -= own;
  }
  throw new RangeError('a path without segments has no points along it');
}

/** The smallest box with sides along x and y around the path, exact for arcs too. */
export function boxOfPath({ vertices, closed }: Path): Box {
  let box = boxOfPoints(vertices);
  // Only an arc reaches beyond its ends. Most paths have few or none, and boxes are asked for all the time.
  const count = closed ? vertices.length : vertices.length - 1;
  for (let i = 0; i < count; i++) {
    if (vertices[i]!.bulge === 0) continue;
    const segment = segmentFrom(vertices[i]!, vertices[(i + 1) % vertices.length]!);
    box = unionBox(box, boxOfSegment(segment));
  }
  return box;
}
