import { centreOf, heightOf, widthOf } from '../geometry/paths/box.ts';
import { boxOfPath, segmentsOf } from '../geometry/paths/path.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { arcOf } from '../geometry/paths/segment.ts';
import type { InnerContour, Part } from '../handing/part.ts';
import type { Cutter } from './cutter.ts';

/** Those fields of a cutter that decide which contours it can cut. */
type CuttingTools = Pick<Cutter, 'blade' | 'knife' | 'punch'>;

/** What becomes of an inner contour: cut by the knife, punched at one blow, or marked for the bench. */
export type Treatment = 'cut' | 'punch' | 'bench';

/** An inner contour that no tool of the cutter makes, in the part's frame, mm. */
export interface BenchContour {
  readonly role: InnerContour['role'];
  readonly path: Path;
  /** The middle of its box. */
  readonly at: Point;
  readonly width: number;
  readonly height: number;
  /** Radius of its tightest curve. */
  readonly radius: number;
}

/** mm by which a radius may fall short: coordinates and bulges of six decimals tell it no better. */
export const sameRadius = 0.001;
/** mm by which the box of a round hole may be longer one way. */
const round = 0.1;

/** Radius of the tightest arc, mm; Infinity where there is none. Corners are no arcs: the knife is lifted there. */
export function smallestRadius(path: Path): number {
  const radii = segmentsOf(path)
    .filter(({ bulge }) => bulge !== 0)
    .map((segment) => arcOf(segment).radius);
  return Math.min(...radii, Infinity);
}

/** The smallest radius of an inner contour. A hole drawn with many corners has no arcs: then half its box is taken. */
function tightest({ role, path }: InnerContour): number {
  if (role === 'CUTOUT') return smallestRadius(path);
  const box = boxOfPath(path);
  return Math.min(smallestRadius(path), widthOf(box) / 2, heightOf(box) / 2);
}

/**
 * What becomes of an inner contour; the one answer for knife, drawing and proof. One that the blade
 * follows is cut; a tighter cutout too where the knife is lifted and turned by an axis, in steps. A
 * tighter hole is punched where the punch fits it. All else is left to the bench.
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

/** The inner contours of a part that are punched or cut by hand, for the sheet. */
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
