import { boxOfPath, growBox, boxContains } from '../geometry/box.ts';
import { flatten } from '../geometry/flatten.ts';
import { measurePath, nearestPlace } from '../geometry/measured-path.ts';
import type { Path } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';

/** How far two paths are apart at most, mm, and where: on the second, unless only the first goes there. */
export interface Deviation {
  readonly distance: number;
  readonly at: Point;
}

/** mm by which points stand for curves. */
const chord = 0.002;
/** Longest stretch between two points that are looked at, mm, and how many there are at most on a path. */
const spacing = 2;
const most = 4000;

/**
 * The largest distance from any place of either path to the other (Hausdorff), seen at points no
 * further apart than 2 mm. Start, direction and the way a path is cut into segments do not matter.
 */
export function deviation(a: Path, b: Path): Deviation {
  return worse(furthest(b, a), furthest(a, b));
}

/** Whether two paths lie on each other to `tolerance` mm. */
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

/** Whether no place of a path is further than `tolerance` mm from another one; ends at the first that is. */
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

/** mm to a path, for points that come one after the other; a path of one vertex is a point. */
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

/** Points along a path, those of its corners among them. */
export function pointsAlong(path: Path): Point[] {
  const corners = flatten(path, chord);
  const ring = path.closed ? [...corners, corners[0]!] : corners;
  const length = ring.slice(1).reduce((sum, p, i) => sum + distance(ring[i]!, p), 0);
  const step = Math.max(spacing, length / most);
  return ring.slice(0, path.closed ? -1 : undefined).flatMap((from, i) => {
    const to = ring[i + 1];
    if (to === undefined) return [from];
    const pieces = Math.max(1, Math.ceil(distance(from, to) / step));
    return Array.from({ length: pieces }, (_, k) => ({
      x: from.x + ((to.x - from.x) * k) / pieces,
      y: from.y + ((to.y - from.y) * k) / pieces,
    }));
  });
}
