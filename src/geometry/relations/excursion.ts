import { growBox } from '../paths/box.ts';
import { segmentCrossings } from './crossings.ts';
import { placeInArea } from './measured-area.ts';
import type { MeasuredPath } from '../measuring/measured-path.ts';
import { nearestPlace } from '../measuring/measured-path.ts';
import type { Path } from '../paths/path.ts';
import { segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { boxOfSegment, nearestOnSegment, pointAt } from '../paths/segment.ts';
import { samePoint } from '../paths/tolerance.ts';

/** A place outside an outline and how far out it is, mm. */
export interface Excursion {
  readonly at: Point;
  readonly distance: number;
}

/** The part of a segment between two crossings is looked at in this many steps. */
const looks = 8;

/**
 * Where a path, or a point given as one vertex, is furthest outside a closed outline. null: it is nowhere
 * more than `tolerance` mm outside. Vertices are looked at, and on segments that cross the outline also
 * points between the crossings.
 */
export function furthestOutside(
  outline: MeasuredPath,
  path: Path,
  tolerance: number,
): Excursion | null {
  let worst: Excursion | null = null;
  for (const { x, y } of [...path.vertices, ...betweenCrossings(outline, path)]) {
    if (placeInArea(outline, { x, y }, tolerance) !== 'outside') continue;
    const { distance } = nearestPlace(outline, { x, y });
    if (distance > (worst?.distance ?? 0)) worst = { at: { x, y }, distance };
  }
  return worst;
}

/** Points of the segments that cross the outline, some between each two crossings. */
function betweenCrossings({ segments, near }: MeasuredPath, path: Path): Point[] {
  return segmentsOf(path).flatMap((segment) => {
    const shares = near(growBox(boxOfSegment(segment), samePoint))
      .flatMap((i) => crossingShares(segment, segments[i]!))
      .sort((a, b) => a - b);
    if (shares.length === 0) return [];
    const cuts = [0, ...shares, 1];
    return cuts.slice(1).flatMap((to, i) => pointsBetween(segment, cuts[i]!, to));
  });
}

function crossingShares(segment: Segment, edge: Segment): number[] {
  return segmentCrossings(segment, edge).map((point) => nearestOnSegment(segment, point).t);
}

function pointsBetween(segment: Segment, from: number, to: number): Point[] {
  if (to <= from) return [];
  return Array.from({ length: looks - 1 }, (_, i) =>
    pointAt(segment, from + ((to - from) * (i + 1)) / looks),
  );
}
