import { growBox } from './box.ts';
import { crossesRay, upright } from './contains.ts';
import { segmentCrossings } from './crossings.ts';
import type { MeasuredPath } from './measured-path.ts';
import type { Path } from './path.ts';
import { segmentsOf } from './path.ts';
import type { Point } from './point.ts';
import { boxOfSegment, nearestOnSegment } from './segment.ts';
import { samePoint } from './tolerance.ts';

/** Where a point lies to a closed path, as placeInPath says it, for many points and one path. */
export function placeInArea(
  area: MeasuredPath,
  p: Point,
  tolerance = samePoint,
): 'inside' | 'on' | 'outside' {
  if (isOn(area, p, tolerance)) return 'on';
  const ray = { minX: p.x, minY: p.y, maxX: Infinity, maxY: p.y };
  const met = area.near(ray).flatMap((i) => upright(area.segments[i]!));
  return met.filter((piece) => crossesRay(piece, p)).length % 2 === 1 ? 'inside' : 'outside';
}

function isOn({ segments, near }: MeasuredPath, p: Point, tolerance: number): boolean {
  const around = growBox({ minX: p.x, minY: p.y, maxX: p.x, maxY: p.y }, tolerance);
  return near(around).some((i) => nearestOnSegment(segments[i]!, p).distance <= tolerance);
}

/** Where a path meets another, as pathCrossings says it, for many paths and one other. */
export function crossingsWith(measured: MeasuredPath, path: Path): Point[] {
  return segmentsOf(path).flatMap((segment) =>
    measured
      .near(growBox(boxOfSegment(segment), samePoint))
      .flatMap((i) => segmentCrossings(segment, measured.segments[i]!)),
  );
}
