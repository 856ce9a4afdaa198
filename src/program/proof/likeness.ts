import { normalDeg, turnDeg } from '../../geometry/paths/angle.ts';
import { flatten } from '../../geometry/paths/flatten.ts';
import { sameCurve } from '../../geometry/measuring/same-curve.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { cross, distance, minus, plus, times } from '../../geometry/paths/point.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import {
  compose,
  identity,
  reflection,
  rotation,
  transformPath,
  translation,
} from '../../geometry/paths/transform.ts';

/** How one contour must be turned, and perhaps mirrored, to become another of the same shape. */
export interface Likeness {
  /** Whether it is the mirror image. */
  readonly mirrored: boolean;
  /** Counter-clockwise, in [0, 360); of the image mirrored in the y axis where it is mirrored. */
  readonly rotationDeg: number;
  readonly transform: Transform;
}

/** Flattening and rounding together move a centroid by less, mm. */
const slack = 0.01;

/**
 * How `found` came from `contour` (both closed) by turning, moving and, where nothing else does, by
 * mirroring; undefined where it did not. Of several turns that fit, the one nearest to `turnedBy`
 * degrees. Centroid goes to centroid and the corner furthest from it to a corner as far.
 */
export function likenessOf(contour: Path, found: Path, turnedBy: number): Likeness | undefined {
  for (const mirrored of [false, true]) {
    const fits = likenesses(contour, found, mirrored);
    const off = ({ rotationDeg }: Likeness): number => Math.abs(turnDeg(rotationDeg, turnedBy));
    const [best] = fits.toSorted((a, b) => off(a) - off(b));
    if (best !== undefined) return best;
  }
  return undefined;
}

function likenesses(contour: Path, found: Path, mirrored: boolean): Likeness[] {
  const mirror = mirrored ? reflection({ x: 0, y: 0 }, 90) : identity;
  const image = transformPath(mirror, contour);
  const middle = centroid(image);
  const target = centroid(found);
  const corner = furthest(image.vertices, middle);
  const reach = distance(corner, middle);
  return found.vertices
    .filter((vertex) => Math.abs(distance(vertex, target) - reach) <= slack)
    .map((vertex): Likeness => {
      const rotationDeg = normalDeg(directionDeg(target, vertex) - directionDeg(middle, corner));
      const turned = compose(rotation(rotationDeg), translation(times(middle, -1)));
      const transform = compose(compose(translation(target), turned), mirror);
      return { mirrored, rotationDeg, transform };
    })
    .filter(({ transform }) => sameCurve(transformPath(transform, contour), found, 2 * slack));
}

function directionDeg(from: Point, to: Point): number {
  return (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
}

function furthest<T extends Point>(points: readonly T[], from: Point): T {
  return points.reduce((best, p) => (distance(p, from) > distance(best, from) ? p : best));
}

/** The centroid of the area, from chords fine enough to place it within `slack`. */
function centroid(path: Path): Point {
  const points = flatten(path, slack / 10);
  const origin = points[0]!;
  let twice = 0;
  let sum: Point = { x: 0, y: 0 };
  for (const [i, p] of points.entries()) {
    const a = minus(p, origin);
    const b = minus(points[(i + 1) % points.length]!, origin);
    const weight = cross(a, b);
    twice += weight;
    sum = plus(sum, times(plus(a, b), weight));
  }
  return plus(origin, times(sum, 1 / (3 * twice)));
}
