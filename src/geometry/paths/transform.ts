import type { Path, Vertex } from './path.ts';
import { reversePath } from './path.ts';
import type { Point } from './point.ts';
import { minus } from './point.ts';
import { headingDeg, headingOf } from './angle.ts';

/** An affine transform: x' = a x + c y + e, y' = b x + d y + f. e and f are in mm. */
export interface Transform {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const identity: Transform = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

export function translation(by: Point): Transform {
  return { ...identity, e: by.x, f: by.y };
}

/** A turn about the origin, degrees counter-clockwise; exact at quarter turns. */
export function rotation(deg: number): Transform {
  const { x, y } = headingOf(deg);
  return { a: x, b: y, c: negated(y), d: x, e: 0, f: 0 };
}

/**
 * The mirror in the line through a point, at an angle a to +x in degrees: the matrix [[cos 2a, sin 2a],
 * [sin 2a, -cos 2a]], moved so that the point stays in its place. Exact for upright and level lines.
 */
export function reflection(through: Point, axisDeg: number): Transform {
  const { x, y } = headingOf(2 * axisDeg);
  const linear = { a: x, b: y, c: y, d: negated(x), e: 0, f: 0 };
  const image = transformPoint(linear, through);
  return { ...linear, e: through.x - image.x, f: through.y - image.y };
}

/** The mirror in the line through two points. */
export function reflectionIn({
  from,
  to,
}: {
  readonly from: Point;
  readonly to: Point;
}): Transform {
  return reflection(from, headingDeg(minus(to, from)));
}

function negated(value: number): number {
  return value === 0 ? 0 : -value;
}

export function scaling(factorX: number, factorY: number): Transform {
  return { ...identity, a: factorX, d: factorY };
}

/** One transform that does `first` and then `second`. */
export function compose(second: Transform, first: Transform): Transform {
  return {
    a: second.a * first.a + second.c * first.b,
    b: second.b * first.a + second.d * first.b,
    c: second.a * first.c + second.c * first.d,
    d: second.b * first.c + second.d * first.d,
    e: second.a * first.e + second.c * first.f + second.e,
    f: second.b * first.e + second.d * first.f + second.f,
  };
}

/** Whether a transform exchanges left and right. */
export function isMirror(transform: Transform): boolean {
  return transform.a * transform.d - transform.b * transform.c < 0;
}

/**
 * Whether a circle stays a circle: the scale is the same in x and y and there is no shear, to a
 * millionth.
 */
export function keepsCircles({ a, b, c, d }: Transform): boolean {
  const size = Math.hypot(a, b);
  return (
    Math.abs(Math.hypot(c, d) - size) <= 1e-6 * size &&
    Math.abs(a * c + b * d) <= 1e-6 * size * size
  );
}

export function transformPoint({ a, b, c, d, e, f }: Transform, { x, y }: Point): Point {
  return { x: a * x + c * y + e, y: b * x + d * y + f };
}

/** What becomes of a direction under the transform. Both angles in degrees counter-clockwise from +x. */
export function transformDeg(transform: Transform, deg: number): number {
  const image = transformPoint({ ...transform, e: 0, f: 0 }, headingOf(deg));
  return (Math.atan2(image.y, image.x) * 180) / Math.PI;
}

/**
 * The path under a transform. A mirror negates every bulge; a closed path is then run the other way from
 * the same vertex, so that an outer contour stays counter-clockwise. Throws RangeError if the path has
 * arcs and the transform does not keep circles.
 */
export function transformPath(transform: Transform, path: Path): Path {
  if (!keepsCircles(transform) && path.vertices.some(({ bulge }) => bulge !== 0)) {
    throw new RangeError('arcs do not survive unequal scaling');
  }
  const mirror = isMirror(transform);
  const vertices = path.vertices.map((vertex): Vertex => {
    const { x, y } = transformPoint(transform, vertex);
    return { x, y, bulge: mirror ? negated(vertex.bulge) : vertex.bulge };
  });
  const moved = { closed: path.closed, vertices };
  return mirror && path.closed ? reversePath(moved) : moved;
}

/**
 * The transform that undoes this one. Throws RangeError if it brings all points onto one line: then none
 * can.
 */
export function inverse({ a, b, c, d, e, f }: Transform): Transform {
  const area = a * d - b * c;
  if (area === 0) throw new RangeError('a transform onto a line cannot be undone');
  return {
    a: d / area,
    b: -b / area,
    c: -c / area,
    d: a / area,
    e: (c * f - d * e) / area,
    f: (b * e - a * f) / area,
  };
}
