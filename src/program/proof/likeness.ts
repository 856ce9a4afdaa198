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

/** How one contour must be moved to become another of the same shape. */
export interface Likeness {
  /** Whether it is mirrored. */
  readonly mirrored: boolean;
  /**
   * How far it is turned, degrees counter-clockwise, in [0, 360). If it is mirrored, it is first mirrored
   * in the y axis and then turned.
   */
  readonly rotationDeg: number;
  readonly transform: Transform;
}

/** Flattening and rounding together move a centroid by less than this, mm. */
const slack = 0.01;

/**
 * How `contour` becomes `found` (both closed): by turning and moving, or, only if that does not do it, by
 * mirroring too. Undefined if the shapes differ. If several turns fit, the one nearest to `turnedBy`
 * degrees is given.
 *
 * The idea: the centroid must go to the centroid, and the corner furthest from it to a corner that is as
 * far from it. So only a few turns need be tried.
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

/** The centroid of the area of a path, from chords fine enough to place it within `slack`. */
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
