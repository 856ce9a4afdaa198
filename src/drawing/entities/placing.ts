import { normalDeg, turnDeg } from '../../geometry/paths/angle.ts';
import { curveOfSegment, transformCurve } from '../../geometry/curves/curve.ts';
import { segmentsOf } from '../../geometry/paths/path.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import {
  isMirror,
  keepsCircles,
  transformDeg,
  transformPath,
  transformPoint,
} from '../../geometry/paths/transform.ts';
import { rounded } from '../../base/numbers.ts';
import type { PointMark } from '../drawing.ts';
import type { DrawnEntity } from './drawn.ts';

/**
 * The entity after a transform. Arcs that are scaled differently in x and y become curves. A text is
 * never mirrored: a mirror moves its place and its direction, and if it would then be upside down (not
 * between -90 and 90 degrees) it is turned by a half turn.
 */
export function placed(transform: Transform, entity: DrawnEntity): DrawnEntity {
  if (isIdentity(transform)) return entity;
  switch (entity.kind) {
    case 'path': {
      const { path } = entity;
      if (keepsCircles(transform) || path.vertices.every(({ bulge }) => bulge === 0)) {
        return { ...entity, path: transformPath(transform, path) };
      }
      const curves = segmentsOf(path).map((segment) =>
        transformCurve(transform, curveOfSegment(segment)),
      );
      const { kind: _, path: __, ...common } = entity;
      return { ...common, kind: 'curves', what: 'arc under unequal scales', curves };
    }
    case 'curves': {
      const curves = entity.curves.map((curve) => transformCurve(transform, curve));
      return { ...entity, curves };
    }
    case 'point':
      return {
        ...entity,
        at: transformPoint(transform, entity.at),
        ...(entity.mark && { mark: placedMark(transform, entity.mark) }),
      };
    case 'text':
      return {
        ...entity,
        at: transformPoint(transform, entity.at),
        height: entity.height * Math.hypot(transform.c, transform.d),
        deg: placedDeg(transform, entity.deg),
      };
  }
}

function isIdentity({ a, b, c, d, e, f }: Transform): boolean {
  return a === 1 && b === 0 && c === 0 && d === 1 && e === 0 && f === 0;
}

function placedMark(transform: Transform, { height, thickness, deg }: PointMark): PointMark {
  const scale = Math.sqrt(Math.abs(transform.a * transform.d - transform.b * transform.c));
  return {
    height: height * scale,
    thickness: thickness * scale,
    deg: deg === null ? null : rounded(normalDeg(transformDeg(transform, deg)), 9),
  };
}

function placedDeg(transform: Transform, deg: number): number {
  // Rounded, because a sine and a cosine on the way make 29.999999999999993 of 30.
  const turned = rounded(transformDeg(transform, deg), 9);
  const upsideDown = isMirror(transform) && Math.abs(turnDeg(0, turned)) > 90;
  return normalDeg(upsideDown ? turned + 180 : turned);
}
