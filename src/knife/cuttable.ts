import { boxOfPath, centreOf, heightOf, widthOf } from '../geometry/box.ts';
import type { Path } from '../geometry/path.ts';
import { segmentsOf } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { arcOf } from '../geometry/segment.ts';
import { samePoint } from '../geometry/tolerance.ts';
import type { InnerContour, Part } from '../handing/part.ts';
import type { Cutter } from './cutter.ts';

/** An inner contour that the knife is too wide for, in the part's frame, mm. */
export interface BenchContour {
  readonly role: InnerContour['role'];
  readonly path: Path;
  /** The middle of its box. */
  readonly at: Point;
  readonly width: number;
  readonly height: number;
  /** Of its tightest arc. */
  readonly radius: number;
}

/** Radius of the tightest arc, mm; Infinity where there is none. Corners are no arcs: the knife is lifted there. */
export function smallestRadius(path: Path): number {
  const radii = segmentsOf(path)
    .filter(({ bulge }) => bulge !== 0)
    .map((segment) => arcOf(segment).radius);
  return Math.min(...radii, Infinity);
}

/** Whether the knife follows an inner contour; the one answer for knife, drawing and proof. */
export function isCuttable(contour: Path, cutter: Pick<Cutter, 'blade'>): boolean {
  return smallestRadius(contour) >= cutter.blade.smallestRadius - samePoint;
}

/** The inner contours of a part that are punched or cut by hand, for the sheet. */
export function leftToBench(
  part: Pick<Part, 'inner'>,
  cutter: Pick<Cutter, 'blade'>,
): BenchContour[] {
  return part.inner
    .filter(({ path }) => !isCuttable(path, cutter))
    .map(({ role, path }) => {
      const box = boxOfPath(path);
      return {
        role,
        path,
        at: centreOf(box),
        width: widthOf(box),
        height: heightOf(box),
        radius: smallestRadius(path),
      };
    });
}
