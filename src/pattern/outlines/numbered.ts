import type { Entity, PathEntity, PointEntity } from '../../drawing/drawing.ts';
import { headingOf } from '../../geometry/paths/angle.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import { nearestOnPath } from '../../geometry/measuring/nearest.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { circle, polyline, segmentsOf } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { leftOf, plus, times } from '../../geometry/paths/point.ts';
import { tangentAt } from '../../geometry/paths/segment.ts';
import type { LayerMap, Role } from '../layers.ts';
import { isNumbered, meaningOf } from '../layers.ts';
import { deepestNotch } from '../shop/material.ts';

/**
 * If group 30 of a point is more than this (mm), it is no depth of a notch or diameter of a drill hole,
 * but a height above the plane of the drawing.
 */
const most = { depth: deepestNotch, drill: 50 };

/**
 * The path that a point on a layer of ASTM D6673 stands for. For a notch it is a line from the point into
 * the outline: group 30 is its length, group 50 its angle (either way along it); without an angle it is
 * square to the edge. (A notch line says where and which way: how deep is cut, the material says.) For a drill hole it is a circle whose diameter is group 30. Undefined if the point
 * says no more than its place.
 */
export function numberedPath(
  { layer, at, mark }: PointEntity,
  role: Role,
  outline: Path | undefined,
): Path | undefined {
  if (mark === undefined || !isNumbered(layer) || mark.height <= 0) return undefined;
  if (role === 'HOLE') return mark.height <= most.drill ? circle(at, mark.height / 2) : undefined;
  if (role !== 'NOTCH' || outline === undefined || mark.height > most.depth) return undefined;
  const across = mark.deg === null ? squareTo(outline, at) : headingOf(mark.deg);
  const ends = [1, -1].map((way) => plus(at, times(across, way * mark.height)));
  const inner = ends.find((end) => placeInPath(outline, end) === 'inside');
  return inner === undefined ? undefined : polyline([at, inner], false);
}

function squareTo(outline: Path, at: Point): Point {
  const { station } = nearestOnPath(outline, at);
  return leftOf(tangentAt(segmentsOf(outline)[station.segment]!, station.t));
}

/** The first closed line with the role OUTLINE. */
export function outlineAmong(entities: readonly Entity[], map: LayerMap): PathEntity | undefined {
  return entities.find(
    (entity): entity is PathEntity =>
      entity.kind === 'path' &&
      entity.path.closed &&
      meaningOf(entity.layer, map)?.role === 'OUTLINE',
  );
}
