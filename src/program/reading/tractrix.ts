import type { Point } from '../../geometry/paths/point.ts';
import { distance, minus, times } from '../../geometry/paths/point.ts';

/**
 * A trailing knife that is dragged: the place of its axis, and its heading (radians, from tip to axis).
 * The tip is `offset` mm behind the axis.
 */
export interface Dragged {
  readonly axis: Point;
  readonly heading: number;
}

/** The place of the tip of a dragged knife. */
export function tipOf({ axis, heading }: Dragged, offset: number): Point {
  return minus(axis, times({ x: Math.cos(heading), y: Math.sin(heading) }, offset));
}

/**
 * The knife after its axis has gone straight to a point while the material held the tip: the tip follows
 * a tractrix. The angle phi between heading and travel shrinks by tan(phi / 2) = tan(phi0 / 2) exp(-s /
 * d), where s is the length of the way and d the offset.
 */
export function dragStraight(knife: Dragged, to: Point, offset: number): Dragged {
  const way = distance(knife.axis, to);
  if (way === 0) return knife;
  const course = Math.atan2(to.y - knife.axis.y, to.x - knife.axis.x);
  const half = (knife.heading - course) / 2;
  // atan2 instead of tan: it also works for a knife that is pushed straight backwards (phi 180 degrees),
  // which stays so.
  const left = 2 * Math.atan2(Math.sin(half) * Math.exp(-way / offset), Math.cos(half));
  return { axis: to, heading: course + left };
}
