import { growBox, boxContains } from '../paths/box.ts';
import { boxOfPath, pathLength, segmentsOf } from '../paths/path.ts';
import { measurePath, nearestPlace } from '../measuring/measured-path.ts';
import type { Path } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { distance } from '../paths/point.ts';
import { pointAt, segmentLength } from '../paths/segment.ts';

/**
 * How far two paths are apart at most, mm, and where: on the second path, unless the first is further
 * from it somewhere.
 */
export interface Deviation {
  readonly distance: number;
  readonly at: Point;
}

/**
 * The longest distance between two points that are looked at, mm, and about how many there are at most on
 * one path.
 */
const spacing = 2;
const most = 4000;

/**
 * The largest distance from any place of either path to the other one (Hausdorff), at points no further
 * apart than 2 mm. It does not matter where the paths begin, which way they go, and how they are divided
 * into segments.
 */
export function deviation(a: Path, b: Path): Deviation {
  return worse(furthest(b, a), furthest(a, b));
}

/** Whether two paths lie on each other within `tolerance` mm. */
export function isSamePlace(a: Path, b: Path, tolerance: number): boolean {
  if (a === b || hasSameVertices(a, b)) return true;
  const [boxA, boxB] = [boxOfPath(a), boxOfPath(b)];
  if (!boxContains(growBox(boxA, tolerance + 1e-9), boxB)) return false;
  if (!boxContains(growBox(boxB, tolerance + 1e-9), boxA)) return false;
  return isWithin(a, b, tolerance) && isWithin(b, a, tolerance);
}

function hasSameVertices(a: Path, b: Path): boolean {
  return (
    a.closed === b.closed &&
    a.vertices.length === b.vertices.length &&
    a.vertices.every((v, i) => {
      const w = b.vertices[i]!;
      return v.x === w.x && v.y === w.y && v.bulge === w.bulge;
    })
  );
}

function worse(one: Deviation, other: Deviation): Deviation {
  return other.distance > one.distance ? other : one;
}

/**
 * Whether no place of a path is further than `tolerance` mm from another path. Stops at the first that
 * is.
 */
function isWithin(from: Path, to: Path, tolerance: number): boolean {
  const off = distanceFrom(to);
  return pointsAlong(from).every((at) => off(at) <= tolerance);
}

/** The place of a path that is furthest from another one. */
function furthest(from: Path, to: Path): Deviation {
  let worst: Deviation = { distance: -1, at: from.vertices[0]! };
  const off = distanceFrom(to);
  for (const at of pointsAlong(from)) {
    const far = off(at);
    if (far > worst.distance) worst = { distance: far, at };
  }
  return worst;
}

/**
 * Returns a function that gives the distance of a point from a path, mm. It is fast for points that
 * follow each other. A path of one vertex is a point.
 */
function distanceFrom(path: Path): (point: Point) => number {
  const measured = measurePath(path);
  if (measured.segments.length === 0) return (point) => distance(path.vertices[0]!, point);
  let guess = 0;
  return (point) => {
    const nearest = nearestPlace(measured, point, guess);
    guess = nearest.station.segment;
    return nearest.distance;
  };
}

/**
 * Points of a path, with its vertices, no further apart than 2 mm, or than a 4000th of a very long path.
 */
function pointsAlong(path: Path): Point[] {
  const segments = segmentsOf(path);
  if (segments.length === 0) return [...path.vertices];
  const step = Math.max(spacing, pathLength(path) / most);
  const points = segments.flatMap((segment) => {
    const pieces = Math.max(1, Math.ceil(segmentLength(segment) / step));
    return Array.from({ length: pieces }, (_, k) => pointAt(segment, k / pieces));
  });
  return path.closed ? points : [...points, path.vertices.at(-1)!];
}
