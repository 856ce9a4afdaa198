import type { Point } from '../paths/point.ts';
import { minus, plus, times, unit } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { arcOf } from '../paths/segment.ts';
import type { Transform } from '../paths/transform.ts';
import { transformPoint } from '../paths/transform.ts';

/** centre + u cos a + v sin a, for a from `start` over `sweep` radians; u and v are conjugate half axes in mm. */
export interface EllipseArc {
  readonly kind: 'ellipse';
  readonly centre: Point;
  readonly u: Point;
  readonly v: Point;
  readonly start: number;
  readonly sweep: number;
}

/**
 * A rational B-spline over its domain, knots[degree] to knots[points.length]; knots rise and there are
 * points.length + degree + 1 of them, weights are positive.
 */
export interface Spline {
  readonly kind: 'spline';
  readonly degree: number;
  readonly knots: readonly number[];
  readonly points: readonly Point[];
  readonly weights: readonly number[];
}

/** A curve that is not lines and circular arcs; affine transforms keep its kind. */
export type Curve = EllipseArc | Spline;

/**
 * A curve by a parameter from 0 to `end`, smooth between whole numbers. At a whole number it may have
 * a corner: `headingAfter` and `headingBefore` are unit vectors of travel on either side.
 */
export interface ParametricCurve {
  readonly end: number;
  readonly at: (t: number) => Point;
  readonly headingAfter: (t: number) => Point;
  readonly headingBefore: (t: number) => Point;
}

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

/** A line or an arc of a circle as a curve that survives unequal scales. */
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

export function traceOf(curve: Curve): ParametricCurve {
  return curve.kind === 'ellipse' ? ellipseTrace(curve) : splineTrace(curve);
}

/** Cut at least at every quarter turn, so that no part of it turns back on itself. */
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
  /** First knot of each stretch of some length in the domain. */
  const spans = points.flatMap((_, i) => (i >= degree && knots[i + 1]! > knots[i]! ? [i] : []));
  const end = spans.length;
  /** The stretch and the knot value of a parameter; whole numbers belong to the stretch before or after. */
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
    // Control points in one place: the curve stands still here, and still has a direction.
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
 * Point and derivative at a knot value within the stretch that begins at knot `span`, by de Boor's
 * scheme on points with their weights (Piegl and Tiller, The NURBS Book, algorithms A3.1 and A4.1
 * give the same values; from memory).
 */
function evaluated(
  { degree, knots, points, weights }: Spline,
  span: number,
  value: number,
): { at: Point; speed: Point } {
  let level = Array.from({ length: degree + 1 }, (_, j): Weighted => {
    const i = span - degree + j;
    const weight = weights[i]!;
    return { x: points[i]!.x * weight, y: points[i]!.y * weight, weight };
  });
  let speed: Weighted = { x: 0, y: 0, weight: 0 };
  for (let r = 1; r <= degree; r++) {
    const width = (j: number): number => knots[span + j]! - knots[span - degree + r - 1 + j]!;
    if (r === degree) {
      const factor = degree / (knots[span + 1]! - knots[span]!);
      speed = combined(level[1]!, factor, level[0]!, -factor);
    }
    level = Array.from({ length: degree + 1 - r }, (_, j) => {
      const low = knots[span - degree + r + j]!;
      const share = (value - low) / width(j + 1);
      return combined(level[j]!, 1 - share, level[j + 1]!, share);
    });
  }
  const { x, y, weight } = level[0]!;
  const at = { x: x / weight, y: y / weight };
  return {
    at,
    speed: {
      x: (speed.x - at.x * speed.weight) / weight,
      y: (speed.y - at.y * speed.weight) / weight,
    },
  };
}

interface Weighted extends Point {
  readonly weight: number;
}

function combined(a: Weighted, p: number, b: Weighted, q: number): Weighted {
  return { x: a.x * p + b.x * q, y: a.y * p + b.y * q, weight: a.weight * p + b.weight * q };
}
