import { sameCurve } from '../geometry/measuring/same-curve.ts';
import { centreOf } from '../geometry/paths/box.ts';
import type { Path } from '../geometry/paths/path.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { minus } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { compose, reflection, transformPath, translation } from '../geometry/paths/transform.ts';

/** A mirror image meets what is drawn there within this, mm: each of the two may be 1 mm off. */
export const twinTolerance = 2;

/** Something cut inside an outline. Only things of one kind can be each other's mirror images. */
export interface CutThing {
  readonly kind: string;
  readonly path: Path;
}

/** An outline and what is cut in it, in one frame whose y is the vehicle's forward. */
export interface CutOutline<T extends CutThing> {
  readonly outline: Path;
  readonly cuts: readonly T[];
}

/** How two outlines compare with each other's mirror image. */
interface Mirrored<T extends CutThing> {
  /** Whether the outlines are mirror images of each other. */
  readonly isImage: boolean;
  /** What is cut in the first one and has no mirror image in the second, and the other way round. */
  readonly lone: readonly [readonly T[], readonly T[]];
}

/**
 * Holds two outlines, and what is cut in them, against each other's mirror image in the vehicle's
 * centreline, wherever each is drawn. Where the outlines are mirror images, what is cut must lie at the
 * same place of both; otherwise its shape alone is looked at.
 */
export function heldAgainstMirror<T extends CutThing>(
  one: CutOutline<T>,
  other: CutOutline<T>,
): Mirrored<T> {
  const way = imageOnto(one.outline, other.outline);
  const isImage = sameCurve(transformPath(way, one.outline), other.outline, twinTolerance);
  const isSame = (a: Path, b: Path): boolean =>
    sameCurve(transformPath(isImage ? way : imageOnto(a, b), a), b, twinTolerance);
  const rest = [...other.cuts];
  const lone = one.cuts.filter(({ kind, path }) => {
    const at = rest.findIndex((two) => two.kind === kind && isSame(path, two.path));
    if (at >= 0) rest.splice(at, 1);
    return at < 0;
  });
  return { isImage, lone: [lone, rest] };
}

/** The mirror that lays the middle of one path's box on that of the other's. */
function imageOnto(path: Path, other: Path): Transform {
  const mirror = reflection({ x: 0, y: 0 }, 90);
  const middle = (of: Path): Point => centreOf(boxOfPath(of));
  return compose(translation(minus(middle(other), middle(transformPath(mirror, path)))), mirror);
}
