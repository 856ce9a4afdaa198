import polygonClipping from 'polygon-clipping';
import { areaOf } from '../geometry/paths/area.ts';
import { flatten } from '../geometry/paths/flatten.ts';
import type { Path } from '../geometry/paths/path.ts';
import { pathLength, polyline } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { rounded } from '../base/numbers.ts';

/** A part where it lies: its cut contour and what is cut out of it, in the lay's frame, mm. */
export interface LaidContours {
  readonly cut: Path;
  readonly inner: readonly Path[];
}

/** How two parts overlap, in the lay's frame. */
export interface Overlap {
  /** Area in mm2. */
  readonly area: number;
  /** Mean depth in mm: roughly how far the parts would have to be moved apart. */
  readonly depth: number;
  /** A corner of the overlap. */
  readonly at: Point;
}

type RingOfPoints = [x: number, y: number][];

/** Curves are judged as polygons that lie inside the material and are this near to the curve, mm. */
const judgeError = 0.01;

/**
 * The deepest overlap of two parts; null: there is none. The polygons lie inside the material, so what
 * overlaps here truly does. Arcs that overlap by less than twice judgeError may be missed.
 */
export function overlapOf(a: LaidContours, b: LaidContours): Overlap | null {
  return deepest(polygonClipping.intersection(ringsOf(a), ringsOf(b)));
}

/** Where a contour reaches furthest out of a polygon in which it should lie; null: nowhere. */
export function beyondOf(cut: Path, polygon: readonly Point[]): Overlap | null {
  const outside = polygonClipping.difference(
    [ringOf(flatten(cut, judgeError, 'inside'))],
    [ringOf(polygon)],
  );
  return deepest(outside);
}

function deepest(polygons: readonly (readonly RingOfPoints[])[]): Overlap | null {
  const overlaps = polygons.map((rings): Overlap => {
    const [outer, ...holes] = rings.map(pathOfRing);
    const area = holes.reduce((left, hole) => left - areaOf(hole), areaOf(outer!));
    const around = [outer!, ...holes].reduce((sum, ring) => sum + pathLength(ring), 0);
    return { area, depth: (2 * area) / around, at: outer!.vertices[0]! };
  });
  return overlaps.sort((one, other) => other.depth - one.depth)[0] ?? null;
}

function ringsOf({ cut, inner }: LaidContours): RingOfPoints[] {
  return [
    ringOf(flatten(cut, judgeError, 'inside')),
    ...inner.map((path) => ringOf(flatten(path, judgeError, 'outside'))),
  ];
}

/**
 * Rounds points to a grid, because the library fails on edges whose ends differ only in their last bits.
 */
function ringOf(points: readonly Point[]): RingOfPoints {
  return points.map(({ x, y }) => [rounded(x, 6), rounded(y, 6)]);
}

function pathOfRing(ring: RingOfPoints): Path {
  return polyline(
    ring.map(([x, y]) => ({ x, y })),
    true,
  );
}
