import { sameBox } from '../paths/box.ts';
import { boxOfPath, segmentsOf } from '../paths/path.ts';
import { nearestOnPath } from './nearest.ts';
import type { Path } from '../paths/path.ts';
import { pointAt } from '../paths/segment.ts';

/**
 * Whether two paths are the same curve within `tolerance` mm, wherever each begins and whichever way it
 * goes. The ends, middle and quarter points of every segment of each path must lie on the other.
 */
export function sameCurve(a: Path, b: Path, tolerance: number): boolean {
  return (
    a.closed === b.closed &&
    sameBox(boxOfPath(a), boxOfPath(b), tolerance) &&
    liesOn(a, b, tolerance) &&
    liesOn(b, a, tolerance)
  );
}

function liesOn(path: Path, on: Path, tolerance: number): boolean {
  return segmentsOf(path).every((segment) =>
    [0, 0.25, 0.5, 0.75, 1].every(
      (t) => nearestOnPath(on, pointAt(segment, t)).distance <= tolerance,
    ),
  );
}
