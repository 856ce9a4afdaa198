import type { Point } from '../paths/point.ts';
import { minus, plus, times, unit } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { arcOf } from '../paths/segment.ts';
import type { Transform } from '../paths/transform.ts';
import { transformPoint } from '../paths/transform.ts';

/**
 * The curve centre + u cos a + v sin a, where the angle a begins at `start` and goes on by `sweep`
 * (radians, negative: clockwise in the frame of u and v). u and v are conjugate half axes, in mm: they
 * are half axes of the ellipse if they stand at right angles, and any affine image of such a pair
 * otherwise.
 */
export interface EllipseArc {
  readonly kind: 'ellipse';
  readonly centre: Point;
  readonly u: Point;
  readonly v: Point;
  readonly start: number;
  readonly sweep: number;
}

/**
 * A rational B-spline. Its parameter goes from knots[degree] to knots[points.length]. Knots never fall,
 * and there are points.length + degree + 1 of them. Weights are positive.
 */
export interface Spline {
  readonly kind: 'spline';
  readonly degree: number;
  readonly knots: readonly number[];
  readonly points: readonly Point[];
  readonly weights: readonly number[];
}

/**
 * A curve that need not consist of lines and circular arcs. An affine transform turns an ellipse into an
 * ellipse and a spline into a spline.
 */
export type Curve = EllipseArc | Spline;

/**
 * A curve as a function of a parameter t, from 0 to `end`. It is smooth between whole numbers. At a whole
 * number it may have a corner: `headingBefore` and `headingAfter` are the unit vectors of travel just
 * before and just after it.
 */
export interface ParametricCurve {
  readonly end: number;
  readonly at: (t: number) => Point;
  readonly headingAfter: (t: number) => Point;
  readonly headingBefore: (t: number) => Point;
}

/** The curve under an affine transform, which may scale x and y differently. */
export function transformCurve(transform: Transform, curve: Curve): Curve {
  if (curve.kind === 'spline') {
    return { ...curve, points: curve.points.map((point) => transformPoint(transform, point)) };
  }
  const turned = { ...transform, e: 0, f: 0 };
  return {
    ...curve,
    centre: transformPoint(transform, curve.centre),
    u: transformPoint(turned, curve.u),
    v: transformPoint(turned, curve.v),
  };
}

/**
 * A line or a circular arc as a Curve. Unlike a segment, a Curve can be scaled differently in x and y.
 */
export function curveOfSegment(segment: Segment): Curve {
  const { from, to, bulge } = segment;
  if (bulge === 0) return straight(from, to);
  const { centre, radius, start, sweep } = arcOf(segment);
  const [u, v] = [
    { x: radius, y: 0 },
    { x: 0, y: radius },
  ];
  return { kind: 'ellipse', centre, u, v, start, sweep };
}

function straight(from: Point, to: Point): Spline {
  return { kind: 'spline', degree: 1, knots: [0, 0, 1, 1], points: [from, to], weights: [1, 1] };
}

/** The curve as a function of a parameter. */
export function traceOf(curve: Curve): ParametricCurve {
  return curve.kind === 'ellipse' ? ellipseTrace(curve) : splineTrace(curve);
}

/**
 * The parameter has a whole step for every quarter turn or less, so that no step of it turns back on
 * itself.
 */
function ellipseTrace({ centre, u, v, start, sweep }: EllipseArc): ParametricCurve {
  const end = Math.max(1, Math.ceil(Math.abs(sweep) / (Math.PI / 2) - 1e-9));
  const angle = (t: number): number => start + (sweep * t) / end;
  const mix = (c: number, s: number): Point => plus(times(u, c), times(v, s));
  const heading = (t: number): Point =>
    unit(times(mix(-Math.sin(angle(t)), Math.cos(angle(t))), Math.sign(sweep)));
  return {
    end,
    at: (t) => plus(centre, mix(Math.cos(angle(t)), Math.sin(angle(t)))),
    headingAfter: heading,
    headingBefore: heading,
  };
}

function splineTrace(spline: Spline): ParametricCurve {
  const { degree, knots, points } = spline;
  /**
   * The knot spans of some length: the curve is a polynomial between knots[i] and knots[i + 1]. Each
   * takes one whole step of the parameter.
   */
  const spans = points.flatMap((_, i) => (i >= degree && knots[i + 1]! > knots[i]! ? [i] : []));
  const end = spans.length;
  /**
   * Point and derivative at a parameter. A whole number lies between two spans: `before` takes the span
   * that ends there, otherwise it is the span that begins there.
   */
  const look = (t: number, before: boolean): { at: Point; speed: Point } => {
    const whole = before ? Math.ceil(t) - 1 : Math.floor(t);
    const span = Math.min(end - 1, Math.max(0, whole));
    const first = spans[span]!;
    const value = knots[first]! + (knots[first + 1]! - knots[first]!) * (t - span);
    return evaluated(spline, first, value);
  };
  const heading = (t: number, before: boolean): Point => {
    const { at, speed } = look(t, before);
    if (Math.hypot(speed.x, speed.y) > 1e-9) return unit(speed);
    // The derivative is zero because control points coincide. The curve still has a heading there: it is
    // taken from a point close by.
    const aside = look(before ? t - 1e-4 : t + 1e-4, before).at;
    return unit(before ? minus(at, aside) : minus(aside, at));
  };
  return {
    end,
    at: (t) => look(t, false).at,
    headingAfter: (t) => heading(t, false),
    headingBefore: (t) => heading(t, true),
  };
}

/**
 * Point and derivative at the knot value `value`, which lies between knots[span] and knots[span + 1].
 *
 * The idea is de Boor's scheme: the degree + 1 control points that matter for this span are mixed
 * pairwise, `degree` times, until one point is left. The last difference before that gives the
 * derivative. Points are carried as (x w, y w, w) with their weight w, and divided by w at the end.
 * (Piegl and Tiller, The NURBS Book, algorithms A3.1 and A4.1 give the same values; from memory.)
 */
function evaluated(
  { degree, knots, points, weights }: Spline,
  span: number,
  value: number,
): { at: Point; speed: Point } {
  // Numbers in flat arrays: this is asked some hundred times for each arc that comes of it.
  const [xs, ys, ws]: [number[], number[], number[]] = [[], [], []];
  for (let j = 0; j <= degree; j++) {
    const i = span - degree + j;
    const weight = weights[i]!;
    xs[j] = points[i]!.x * weight;
    ys[j] = points[i]!.y * weight;
    ws[j] = weight;
  }
  let [speedX, speedY, speedW] = [0, 0, 0];
  for (let r = 1; r <= degree; r++) {
    if (r === degree) {
      const factor = degree / (knots[span + 1]! - knots[span]!);
      speedX = xs[1]! * factor + xs[0]! * -factor;
      speedY = ys[1]! * factor + ys[0]! * -factor;
      speedW = ws[1]! * factor + ws[0]! * -factor;
    }
    for (let j = 0; j <= degree - r; j++) {
      const low = knots[span - degree + r + j]!;
      const share = (value - low) / (knots[span + j + 1]! - low);
      const rest = 1 - share;
      xs[j] = xs[j]! * rest + xs[j + 1]! * share;
      ys[j] = ys[j]! * rest + ys[j + 1]! * share;
      ws[j] = ws[j]! * rest + ws[j + 1]! * share;
    }
  }
  const [x, y, weight] = [xs[0]!, ys[0]!, ws[0]!];
  const at = { x: x / weight, y: y / weight };
  return {
    at,
    speed: {
      x: (speedX - at.x * speedW) / weight,
      y: (speedY - at.y * speedW) / weight,
    },
  };
}
