import { sameBox } from '../paths/box.ts';
import { boxOfPath, segmentsOf } from '../paths/path.ts';
import type { MeasuredPath } from './measured-path.ts';
import { isOnMeasured, measurePath } from './measured-path.ts';
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
    liesOn(a, measurePath(b), tolerance) &&
    liesOn(b, measurePath(a), tolerance)
  );
}

function liesOn(path: Path, on: MeasuredPath, tolerance: number): boolean {
  return segmentsOf(path).every((segment) =>
    [0, 0.25, 0.5, 0.75, 1].every((t) => isOnMeasured(on, pointAt(segment, t), tolerance)),
  );
}
