import type { Curve, EllipseArc, Spline } from '../../geometry/curves/curve.ts';
import { throughPoints } from '../../geometry/curves/interpolate.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, times } from '../../geometry/paths/point.ts';
import { damaged, pointIn } from './curves.ts';
import { extrusionOf } from './frame.ts';
import type { DxfRecord } from '../tags/records.ts';
import { hasTag, numberIn } from '../tags/records.ts';

/** The curve of a SPLINE or an ELLIPSE in drawing units, seen from above. */
export interface FreeCurve {
  readonly curve: Curve;
  /** Whether it leaves the level plane. */
  readonly rises: boolean;
  /**
   * Whether the file only gives points on the curve, so that the way between them had to be worked out.
   */
  readonly interpolated: boolean;
}

/**
 * The ELLIPSE. The file gives its centre, half its long axis, the ratio of the short axis to the long
 * one, and the start and end parameter in radians. Undefined if it has no size.
 */
export function ellipseIn(record: DxfRecord): FreeCurve | undefined {
  const normal = extrusionOf(record);
  const u = { ...pointIn(record, 11), z: numberIn(record, 31, 0) };
  const ratio = numberIn(record, 40);
  const turn = 2 * Math.PI;
  const start = numberIn(record, 41, 0) % turn;
  const given = (numberIn(record, 42, turn) % turn) - start;
  if (normal === undefined || Math.hypot(u.x, u.y, u.z) === 0 || ratio <= 0) return undefined;
  const left = ((given % turn) + turn) % turn;
  // The end of a full turn is often written with its last digits rounded.
  const sweep = left < 1e-9 || turn - left < 1e-9 ? turn : left;
  const v = {
    x: (normal.y * u.z - normal.z * u.y) * ratio,
    y: (normal.z * u.x - normal.x * u.z) * ratio,
  };
  const curve: EllipseArc = { kind: 'ellipse', centre: pointIn(record), u, v, start, sweep };
  const rises = Math.abs(normal.z) < 1 - 1e-9;
  return { curve: { ...curve, u: { x: u.x, y: u.y } }, rises, interpolated: false };
}

/**
 * The SPLINE: from its control points, weights and knots, or, if it has no control points, through its
 * fit points with the end directions of groups 12 and 13. Throws a Refusal if counts, knots or weights
 * cannot be right. Undefined if it has too few points to be a curve.
 */
export function splineIn(record: DxfRecord): FreeCurve | undefined {
  const points = pointsIn(record, 10);
  const fitPoints = pointsIn(record, 11);
  checkCount(record, 73, points.length, 'control points');
  checkCount(record, 74, fitPoints.length, 'fit points');
  const rises = [30, 31].some((code) => new Set(numbersIn(record, code)).size > 1);
  if (points.length > 0)
    return { curve: checkedSpline(record, points), rises, interpolated: false };
  const distinct = fitPoints.filter((p, i) => i === 0 || distance(p, fitPoints[i - 1]!) > 0);
  if (distinct.length < 2) return undefined;
  const closed = (numberIn(record, 70, 0) & 1) === 1;
  const ring = closed && distance(distinct[0]!, distinct.at(-1)!) > 0;
  const ends = { start: headingIn(record, 12), end: headingIn(record, 13) };
  const curve = throughPoints(ring ? [...distinct, distinct[0]!] : distinct, ends, closed);
  return { curve, rises, interpolated: true };
}

function checkedSpline(record: DxfRecord, points: readonly Point[]): Spline {
  const degree = numberIn(record, 71, 3);
  const knots = numbersIn(record, 40);
  const given = numbersIn(record, 41);
  const weights = given.length === 0 ? points.map(() => 1) : given;
  checkCount(record, 72, knots.length, 'knots');
  if (degree < 1 || degree > 25) damaged(record, `the SPLINE has the degree ${degree} (group 71).`);
  if (points.length <= degree) {
    damaged(
      record,
      `the SPLINE of degree ${degree} has ${points.length} control points (group 10).`,
    );
  }
  if (knots.length !== points.length + degree + 1) {
    const right = points.length + degree + 1;
    damaged(record, `the SPLINE has ${knots.length} knots (group 40) and needs ${right}.`);
  }
  if (knots.some((knot, i) => i > 0 && knot < knots[i - 1]!)) {
    damaged(record, 'the knots of the SPLINE (group 40) do not rise.');
  }
  if (knots[degree]! >= knots[points.length]!) {
    damaged(record, 'the knots of the SPLINE (group 40) leave it no length.');
  }
  const inner = knots.slice(degree + 1, points.length);
  if (
    inner.some(
      (knot, i) =>
        knot === inner[i + degree] && knot > knots[degree]! && knot < knots[points.length]!,
    )
  ) {
    damaged(record, `the SPLINE falls apart where a knot (group 40) stands ${degree + 1} times.`);
  }
  if (weights.length !== points.length || weights.some((weight) => weight <= 0)) {
    damaged(record, 'the SPLINE needs a positive weight (group 41) for each control point.');
  }
  return { kind: 'spline', degree, knots, points, weights };
}

function checkCount(record: DxfRecord, code: number, has: number, what: string): void {
  const stated = numberIn(record, code, has);
  if (stated !== has) {
    damaged(record, `the SPLINE states ${stated} ${what} (group ${code}) and has ${has}.`);
  }
}

/**
 * The points whose x stands in group `code` and their y in group `code + 10`, in the order of the file.
 */
function pointsIn(record: DxfRecord, code: number): Point[] {
  const across = numbersIn(record, code);
  const up = numbersIn(record, code + 10);
  if (across.length !== up.length) {
    const counts = `${across.length} groups ${code} and ${up.length} groups ${code + 10}`;
    damaged(record, `the SPLINE has ${counts}.`);
  }
  return across.map((x, i) => ({ x, y: up[i]! }));
}

function numbersIn(record: DxfRecord, code: number): number[] {
  return record.tags.flatMap((tag) => (tag.code === code ? [Number(tag.value)] : []));
}

function headingIn(record: DxfRecord, code: number): Point | undefined {
  const heading = hasTag(record, code) ? pointIn(record, code) : { x: 0, y: 0 };
  return heading.x === 0 && heading.y === 0 ? undefined : times(heading, 1);
}
