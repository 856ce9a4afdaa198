import type { Point } from '../../geometry/paths/point.ts';
import { distance, minus, times } from '../../geometry/paths/point.ts';

/**
 * A trailing knife as it is dragged: where its axis is and which way it looks (radians, from tip to
 * axis). The tip is `offset` mm behind the axis.
 */
export interface Dragged {
  readonly axis: Point;
  readonly heading: number;
}

export function tipOf({ axis, heading }: Dragged, offset: number): Point {
  return minus(axis, times({ x: Math.cos(heading), y: Math.sin(heading) }, offset));
}

/**
 * The knife after its axis went straight to a point, the tip held by the material: the tractrix. The
 * angle between heading and travel falls as tan(phi / 2) = tan(phi0 / 2) exp(-s / d), s the way and
 * d the offset.
 */
export function dragStraight(knife: Dragged, to: Point, offset: number): Dragged {
  const way = distance(knife.axis, to);
  if (way === 0) return knife;
  const course = Math.atan2(to.y - knife.axis.y, to.x - knife.axis.x);
  const half = (knife.heading - course) / 2;
  // atan2 instead of tan: a knife dragged straight backwards (phi 180 degrees) stays so.
  const left = 2 * Math.atan2(Math.sin(half) * Math.exp(-way / offset), Math.cos(half));
  return { axis: to, heading: course + left };
}
