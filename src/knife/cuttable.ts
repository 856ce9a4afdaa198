import { centreOf, heightOf, widthOf } from '../geometry/paths/box.ts';
import { boxOfPath, segmentsOf } from '../geometry/paths/path.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { arcOf } from '../geometry/paths/segment.ts';
import type { InnerContour, Part } from '../handing/part.ts';
import type { Cutter } from './cutter.ts';

/** The fields of a cutter that decide which contours it can cut. */
type CuttingTools = Pick<Cutter, 'blade' | 'knife' | 'punch'>;

/**
 * What is done with an inner contour: the knife cuts it, the punch makes it at one blow, or it is marked
 * and left to the bench.
 */
export type Treatment = 'cut' | 'punch' | 'bench';

/** An inner contour that no tool of the cutter can make, in the part's frame, mm. */
export interface BenchContour {
  readonly role: InnerContour['role'];
  readonly path: Path;
  /** The centre of its box. */
  readonly at: Point;
  readonly width: number;
  readonly height: number;
  /** Radius of its tightest curve. */
  readonly radius: number;
}

/**
 * How much a radius may be too small, mm: with six decimals, coordinates and bulges do not fix it more
 * exactly.
 */
export const sameRadius = 0.001;
/** How much the width and height of the box of a round hole may differ, mm. */
const round = 0.1;

/**
 * The radius of the tightest arc, mm; Infinity if there is no arc. Corners do not count: the knife is
 * lifted there.
 */
export function smallestRadius(path: Path): number {
  const radii = segmentsOf(path)
    .filter(({ bulge }) => bulge !== 0)
    .map((segment) => arcOf(segment).radius);
  return Math.min(...radii, Infinity);
}

/**
 * The smallest radius of an inner contour, mm. A hole that is drawn with many corners has no arcs, so
 * half the size of its box counts too.
 */
function tightest({ role, path }: InnerContour): number {
  if (role === 'CUTOUT') return smallestRadius(path);
  const box = boxOfPath(path);
  return Math.min(smallestRadius(path), widthOf(box) / 2, heightOf(box) / 2);
}

/**
 * What is done with an inner contour. Knife, drawing and proof all ask here. If the blade can follow the
 * contour, it is cut. A cutout that is too tight is also cut, in steps, if an axis turns the knife and
 * lifts it between steps. A hole that is too tight is punched if the punch has its size. Everything else
 * is left to the bench.
 */
export function treatmentOf(inner: InnerContour, { blade, knife, punch }: CuttingTools): Treatment {
  if (tightest(inner) >= blade.smallestRadius - sameRadius) return 'cut';
  if (inner.role === 'CUTOUT') return knife.kind === 'tangential' ? 'cut' : 'bench';
  if (punch === undefined) return 'bench';
  const box = boxOfPath(inner.path);
  const isRound = Math.abs(widthOf(box) - heightOf(box)) <= round;
  const isFit = Math.abs(widthOf(box) - punch.diameter) <= punch.tolerance + sameRadius;
  return isRound && isFit ? 'punch' : 'bench';
}

/** The inner contours of a part that are left to the bench, where they are punched or cut by hand. */
export function leftToBench(part: Pick<Part, 'inner'>, cutter: CuttingTools): BenchContour[] {
  return part.inner
    .filter((inner) => treatmentOf(inner, cutter) === 'bench')
    .map((inner) => {
      const box = boxOfPath(inner.path);
      return {
        role: inner.role,
        path: inner.path,
        at: centreOf(box),
        width: widthOf(box),
        height: heightOf(box),
        radius: tightest(inner),
      };
    });
}
