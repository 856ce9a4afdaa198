import { normalDeg, turnDeg } from '../geometry/angle.ts';
import type { Transform } from '../geometry/transform.ts';
import {
  isMirror,
  keepsCircles,
  transformDeg,
  transformPath,
  transformPoint,
} from '../geometry/transform.ts';
import { rounded } from '../numbers.ts';
import type { Entity } from './drawing.ts';

/**
 * The entity moved, turned, scaled or mirrored; undefined for arcs under a transform that makes
 * ellipses of them. Under a mirror a text keeps its place and its line, and is turned by a half turn
 * where it would be upside down: it reads from -90 to 90 degrees.
 */
export function placed(transform: Transform, entity: Entity): Entity | undefined {
  switch (entity.kind) {
    case 'path':
      if (!keepsCircles(transform) && entity.path.vertices.some(({ bulge }) => bulge !== 0)) {
        return undefined;
      }
      return { ...entity, path: transformPath(transform, entity.path) };
    case 'point':
      return { ...entity, at: transformPoint(transform, entity.at) };
    case 'text':
      return {
        ...entity,
        at: transformPoint(transform, entity.at),
        height: entity.height * Math.hypot(transform.c, transform.d),
        deg: placedDeg(transform, entity.deg),
      };
  }
}

function placedDeg(transform: Transform, deg: number): number {
  // Rounded, for a sine and a cosine on the way make 29.999999999999993 of 30.
  const turned = rounded(transformDeg(transform, deg), 9);
  const upsideDown = isMirror(transform) && Math.abs(turnDeg(0, turned)) > 90;
  return normalDeg(upsideDown ? turned + 180 : turned);
}
